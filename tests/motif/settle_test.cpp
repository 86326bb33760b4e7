#include "catch.hpp"
#include "examples.hpp"
#include "motif/settle.hpp"

using board::Color;
using examples::position;
using motif::Settler;

TEST_CASE("settling plays captures out and lets the side to move stand", "[motif][settle]") {
    Settler settler;
    // A rook for nothing, and the same rook guarded by a pawn.
    CHECK(settler.settle(position("6k1/5ppp/8/3r4/8/8/5PPP/3R2K1 w - - 0 1"), Color::white) == 5);
    CHECK(settler.settle(position("6k1/5ppp/4p3/3b4/8/8/5PPP/3R2K1 w - - 0 1"), Color::white) == 1);
    // Seen from the other side.
    CHECK(settler.settle(position("6k1/5ppp/8/3r4/8/8/5PPP/3R2K1 w - - 0 1"), Color::black) == -5);
    // A promotion counts as what it brings.
    CHECK(settler.settle(position("8/P4k2/8/8/8/8/6P1/6K1 w - - 0 1"), Color::white) == 10);
}

TEST_CASE("settling sees a mate by the first check and stalemate", "[motif][settle]") {
    Settler settler;
    CHECK(settler.settle(position("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1"), Color::white) > 900);
    CHECK(settler.settle(position("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1"), Color::black) < -900);
    CHECK(settler.settle(position("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1"), Color::white) == 0);
}

TEST_CASE("the worst reply decides", "[motif][settle]") {
    Settler settler;
    // After a knight's check on king and queen the queen is lost, whatever the king does (+3 - 9 + 9 ...).
    const auto forked = position("2q3k1/4Nppp/8/8/8/8/5PPP/6K1 b - - 0 1");
    CHECK(settler.worst_reply(forked, Color::white) == 3);
    // The bishop takes the knight instead.
    CHECK(settler.worst_reply(position("2q2bk1/4Nppp/8/8/8/8/5PPP/6K1 b - - 0 1"), Color::white) == -12);
    CHECK(settler.worst_reply(position("3R2k1/5ppp/8/8/8/8/5PPP/6K1 b - - 0 1"), Color::white) ==
          motif::mate_value);
}

TEST_CASE("a quiet second move is looked for when asked", "[motif][settle]") {
    Settler settler;
    // The bishop on h2 is shut in; only the king's quiet move attacks it.
    const auto caged = position("6k1/5ppp/8/8/8/6P1/5P1b/5K2 b - - 0 1");
    const int now = -4; // two pawns against three and a bishop
    CHECK_FALSE(settler.keeps(caged, Color::white, now + 1, 0));
    CHECK(settler.keeps(caged, Color::white, now + 1, 1));
    CHECK_FALSE(settler.keeps(caged, Color::white, now + 4, 1));
}

TEST_CASE("with the account empty a position counts as it stands", "[motif][settle]") {
    Settler settler(0);
    CHECK(settler.settle(position("6k1/5ppp/8/3r4/8/8/5PPP/3R2K1 w - - 0 1"), Color::white) == 0);
    CHECK_FALSE(settler.keeps(position("2q3k1/4Nppp/8/8/8/8/5PPP/6K1 b - - 0 1"), Color::white, -20, 1));
}
