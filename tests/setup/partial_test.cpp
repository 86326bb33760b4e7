// Diagrams said to leave men out.
#include "from_text.hpp"
#include "setup/legality.hpp"

using setup::contradictions;
using setup::Extent;

namespace {

std::string codes(const std::string& fen, Extent extent) {
    std::string list;
    for (const setup::Contradiction& c : contradictions(from_text::setup(fen), extent)) {
        list += (list.empty() ? "" : " ") + c.code;
    }
    return list;
}

} // namespace

TEST_CASE("what a man more could put right is not asked of a partial diagram") {
    const std::string fen =
        GENERATE("8/8/8/3N4/8/8/8/8 w - - 0 1",                             // no kings
                 "8/8/8/3N4/8/8/8/4K3 w - - 0 1",                           // one king
                 "kB6/PN6/8/8/8/8/8/4K3 w - - 0 1",                         // who moved last?
                 "4k3/8/3N1N2/8/8/8/8/4K3 b - - 0 1",                       // a check that no move gives
                 "8/8/8/3k1K2/8/8/8/8 w - - 0 1",                           // dead
                 "7k/5Q2/8/8/8/8/8/K7 b - - 0 1",                           // stalemate
                 "rnbqkbnr/pppppppp/8/8/8/P7/P1PPPPPP/RNBQKBNR w - - 0 1"); // what was taken?
    INFO(fen);
    CHECK(codes(fen, Extent::whole) != "");
    CHECK(codes(fen, Extent::partial) == "");
}

TEST_CASE("what no man more can put right is told of a partial diagram too") {
    const auto [fen, code] = GENERATE(table<std::string, std::string>({
        {"8/8/3K4/8/3K4/8/8/8 w - - 0 1", "K1"},
        {"8/8/8/3kK3/8/8/8/8 w - - 0 1", "K2"},
        {"P7/8/8/8/8/8/8/8 w - - 0 1", "P1"},
        {"8/8/8/8/4k3/8/8/4R3 w - - 0 1", "C1"},
        {"8/8/8/8/8/P7/PPPPPPPP/8 w - - 0 1", "N1"},
        {"8/8/8/8/3QQ3/8/PPPPPPPP/8 w - - 0 1", "N2"},
        {"8/8/8/8/4B3/8/PPPPPPPP/5B2 w - - 0 1", "N3"},
        {"8/8/8/8/8/8/1P6/B7 w - - 0 1", "H1"},
        {"8/8/8/8/8/4k3/3P4/8 b - - 0 1", "H2"},
        {"8/8/8/8/8/P7/PP6/8 w - - 0 1", "W1"},
        {"8/8/8/8/8/8/8/7R w K - 0 1", "R1"},
        {"8/8/8/4P3/8/8/8/8 w - d6 0 1", "E2"},
        {"8/8/8/3N4/8/8/8/8 w - - 50 10", "F1"},
    }));
    INFO(fen);
    CHECK(codes(fen, Extent::partial) == code);
}

TEST_CASE("a partial diagram with the wrong side to move is repaired like any other") {
    const auto found = contradictions(from_text::setup("8/8/8/8/4k3/8/8/4R3 w - - 0 1"), Extent::partial);
    REQUIRE(found.size() == 1);
    REQUIRE(found.front().repaired);
    CHECK(board::write_fen(*found.front().repaired) == "8/8/8/8/4k3/8/8/4R3 b - - 0 1");
}
