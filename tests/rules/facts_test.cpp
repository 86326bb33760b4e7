#include "rules/facts.hpp"

#include "catch.hpp"

using rules::Fact;
using rules::fact_of;

TEST_CASE("themes that state a length of mate", "[rules][facts]") {
    const auto moves = [](std::string_view theme) {
        const auto fact = fact_of(theme);
        return fact && fact->kind == Fact::Kind::mate ? fact->moves : -1;
    };
    CHECK(moves("mate in 2") == 2);
    CHECK(moves("Mate-in-Two") == 2);
    CHECK(moves("checkmate in 12 moves") == 12);
    CHECK(moves("mate in one move") == 1);
    CHECK(moves("Mate") == 0);
    CHECK(moves("checkmate") == 0);
    CHECK(moves("mate in") == -1);
    CHECK(moves("mate in 0") == -1);
    CHECK(moves("mate in 2 or 3") == -1);
    CHECK(moves("mate in many") == -1);
    CHECK(moves("mates in 2") == -1);
    CHECK(moves("check") == -1);
}

TEST_CASE("themes that state the side to move or the men on the board", "[rules][facts]") {
    CHECK(fact_of("Black to play")->side == board::Color::black);
    CHECK(fact_of("white_to_move")->kind == Fact::Kind::to_move);
    CHECK_FALSE(fact_of("white to win").has_value());
    CHECK(fact_of("rook-endgame")->role == board::Role::rook);
    CHECK(fact_of("Pawn ending")->kind == Fact::Kind::ending);
    CHECK_FALSE(fact_of("king ending").has_value());
    CHECK_FALSE(fact_of("rook").has_value());
    CHECK_FALSE(fact_of("").has_value());
}
