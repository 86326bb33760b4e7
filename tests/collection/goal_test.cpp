#include "reading.hpp"

using namespace collection;

TEST_CASE("goals are read as people write them") {
    const auto reads = [](std::string_view text) {
        const auto goal = read_goal(text);
        return goal ? write_goal(*goal) : std::string("nothing");
    };
    for (const std::string_view text :
         {"mate in 3", "Mate in three", "#3", "# 3", "White mates in 3.", "White to play and mate in 3 moves",
          "checkmate in 3", "3-mover", "three-mover", "forced mate in 3"}) {
        INFO(text);
        CHECK(reads(text) == "mate in 3");
    }
    for (const std::string_view text : {"win", "+", "Wins", "White to play and win", "Black wins"}) {
        INFO(text);
        CHECK(reads(text) == "win");
    }
    CHECK(reads("win the exchange") == "win exchange");
    CHECK(reads("wins a piece") == "win piece");
    CHECK(reads("win a minor piece") == "win piece");
    CHECK(reads("Win queen") == "win queen");
    CHECK(reads("wins a rook") == "win rook");
    CHECK(reads("win a pawn") == "win pawn");
    CHECK(reads("wins material") == "win pawn");
    for (const std::string_view text : {"draw", "=", "White to play and draw"}) {
        CHECK(reads(text) == "draw");
    }
    for (const std::string_view text : {"hold", "only move", "find the only move"}) {
        INFO(text);
        CHECK(reads(text) == "hold");
    }
    CHECK(reads("best") == "best");
    CHECK(reads("find the best move") == "best");
}

TEST_CASE("other stipulations are known and not checked") {
    for (const std::string_view text : {"h#2", "s#3", "r#2", "helpmate in 2", "selfmate in 3",
                                        "proof game in 12.5", "ser-h#5", "hs#3", "h=2"}) {
        const auto goal = read_goal(text);
        INFO(text);
        REQUIRE(goal);
        CHECK(goal->kind == GoalKind::not_checked);
    }
}

TEST_CASE("what is no goal is none") {
    for (const std::string_view text :
         {"", "mate", "mate in", "mate in 0", "mate in 1000", "#", "#-2", "mate in 99999999999999999999",
          "win win", "win the tournament", "draw a picture", "?", "mating"}) {
        INFO(text);
        CHECK_FALSE(read_goal(text));
    }
    CHECK_FALSE(read_goal(std::string(100000, '#')));
}

TEST_CASE("a written goal reads as itself") {
    for (const GoalUnit unit :
         {GoalUnit::queen, GoalUnit::rook, GoalUnit::exchange, GoalUnit::piece, GoalUnit::pawn}) {
        const Goal goal{GoalKind::win_material, 0, unit};
        CHECK(read_goal(write_goal(goal)) == goal);
        CHECK(least_gain(unit) >= 1);
    }
    const Goal mate{GoalKind::mate, 12, GoalUnit::pawn};
    CHECK(read_goal(write_goal(mate)) == mate);
    CHECK(least_gain(GoalUnit::queen) == 4);
    CHECK(least_gain(GoalUnit::pawn) == 1);
}
