// What changed hands, in words. Diagrams are our own.
#include "from_text.hpp"
#include "rules/account.hpp"

using from_text::position;

namespace {

std::string account(const char* before, const char* after, board::Color side = board::Color::white) {
    return rules::account_of(position(before), position(after), side);
}

} // namespace

TEST_CASE("men are told that one side lost and the other did not") {
    CHECK(account("r2qk2r/5ppp/8/8/8/8/5PPP/R2QK1NR w - - 0 1", "r3k2r/5ppp/8/8/8/8/5PPP/3QK3 w - - 0 1") ==
          "queen for two rooks and knight: 9 against 13");
    CHECK(account("r2qk2r/5ppp/8/8/8/8/5PPP/R2QK1NR w - - 0 1", "r3k2r/5ppp/8/8/8/8/5PPP/3QK3 w - - 0 1",
                  board::Color::black) == "two rooks and knight for queen: 13 against 9");
    CHECK(account("4k3/5ppp/8/8/8/8/5PPP/4K2R w - - 0 1", "4k3/8/8/8/8/8/5PPP/4K2R w - - 0 1") ==
          "three pawns for nothing");
    CHECK(account("4k2r/8/8/8/8/8/8/4K1NR w - - 0 1", "4k3/8/8/8/8/8/8/4K3 w - - 0 1") ==
          "nothing for knight");
}

TEST_CASE("what both lost cancels out, and a promotion costs a pawn") {
    CHECK(account("4k2r/8/8/8/8/8/8/4K2R w - - 0 1", "4k3/8/8/8/8/8/8/4K3 w - - 0 1") == "no man is won");
    CHECK(account("4k3/6P1/8/8/8/8/8/4K3 w - - 0 1", "4k1Q1/8/8/8/8/8/8/4K3 b - - 0 1") ==
          "queen for pawn: 9 against 1");
}
