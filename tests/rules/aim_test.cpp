#include "from_text.hpp"
#include "rules/aim.hpp"

using collection::Goal;
using from_text::position;

namespace {

Goal goal(std::string_view text) {
    const auto read = collection::read_goal(text);
    REQUIRE(read);
    return *read;
}

} // namespace

TEST_CASE("a goal is an aim") {
    const auto even = position("4k3/8/8/8/8/8/8/4K3 w - - 0 1");
    CHECK(rules::aim_of(goal("mate in 3"), even, 0, 200)->mate_in == 3);
    CHECK(rules::aim_of(goal("mate in 3"), even, 2, 200)->mate_in == 1);
    CHECK(rules::aim_of(goal("win"), even, 0, 150)->score == 150);
    CHECK_FALSE(rules::aim_of(goal("win"), even, 0, 150)->mate_in);
    for (const char* text : {"draw", "hold"}) {
        CHECK(rules::aim_of(goal(text), even, 0, 200)->score == solve::Aim::hold().score);
        CHECK(rules::draw_suffices(goal(text)));
    }
    CHECK_FALSE(rules::aim_of(goal("best"), even, 0, 200));
    CHECK_FALSE(rules::draw_suffices(goal("win")));
}

TEST_CASE("to win material is to win it on top of what the solver has") {
    const auto gain = [](const char* fen, std::string_view text) {
        return rules::aim_of(goal(text), position(fen), 0, 200)->score;
    };
    constexpr const char* even = "4k3/8/8/8/8/8/8/4K3 w - - 0 1";
    CHECK(gain(even, "win queen") > gain(even, "win piece"));
    CHECK(gain(even, "win piece") > gain(even, "win pawn"));
    CHECK(gain(even, "win pawn") > 0);
    // A rook ahead, a rook behind: 5 pawns on the common scale, seen from the side to move.
    CHECK(gain("4k3/8/8/8/8/8/8/R3K3 w - - 0 1", "win pawn") == gain(even, "win pawn") + 500);
    CHECK(gain("4k3/8/8/8/8/8/8/R3K3 b - - 0 1", "win pawn") == gain(even, "win pawn") - 500);
}

TEST_CASE("near the best: a mate is above every score") {
    CHECK(rules::aim_near({120, std::nullopt}, 100).score == 20);
    CHECK(rules::aim_near({0, 3}, 100).score > 5'000);
    CHECK(rules::aim_near({0, -3}, 100).score < -5'000);
}
