// The value of a quiet position: symmetry, scale and drawn material.

#include "positions.hpp"
#include "solve/eval.hpp"

using board::Color;
using board::Position;
using namespace solve_test;
using solve::evaluate;

TEST_CASE("colours exchanged the value is the same") {
    int positions = 0;
    walk(53, 80, 100, [&](const Position& at) {
        INFO(fen(at));
        CHECK(evaluate(mirrored(at)) == evaluate(at));
        ++positions;
    });
    CHECK(positions > 3000);
    constexpr std::string_view sets[] = {"KPkb", "KBPk", "KBPPkbp", "KNNk", "KRkb", "KPPkp", "KBNkpp"};
    Random random(59);
    for (int i = 0; i < 2000; ++i) {
        const Color turn = i % 2 == 0 ? Color::white : Color::black;
        if (const auto at = diagram(random, sets[static_cast<std::size_t>(i) % std::size(sets)], turn)) {
            INFO(fen(*at));
            CHECK(evaluate(mirrored(*at)) == evaluate(*at));
        }
    }
}

TEST_CASE("counters do not change the value") {
    const Position early = position("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1");
    const Position late = position("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 80 140");
    CHECK(evaluate(early) == evaluate(late));
}

TEST_CASE("material that cannot win is worth next to nothing, wherever it stands") {
    constexpr std::string_view sets[] = {"Kk", "KNk", "KBk", "KNNk", "KBkb", "KNkn", "KBkn"};
    Random random(61);
    int positions = 0;
    for (int i = 0; i < 1400; ++i) {
        const Color turn = i % 2 == 0 ? Color::white : Color::black;
        if (const auto at = diagram(random, sets[static_cast<std::size_t>(i) % std::size(sets)], turn)) {
            INFO(fen(*at));
            CHECK(std::abs(evaluate(*at)) <= 50);
            ++positions;
        }
    }
    CHECK(positions > 500);
}

TEST_CASE("endings that are drawn as a rule are no win") {
    // A minor piece more without pawns: common practice.
    for (const char* fen : {"8/8/3k4/3b4/8/3K4/3R4/8 w - - 0 1", "8/8/3k4/3r4/8/2BK4/3R4/8 w - - 0 1",
                            "8/8/3k4/3n4/8/3K4/3R4/8 w - - 0 1"}) {
        INFO(fen);
        CHECK(std::abs(evaluate(position(fen))) < 150);
    }
    // A rook's pawn and the bishop of the other colour than its corner.
    CHECK(std::abs(evaluate(position("k7/8/1K6/P7/8/8/8/2B5 w - - 0 1"))) < 60);
    CHECK(evaluate(position("k7/8/1K6/P7/8/8/8/3B4 w - - 0 1")) > 200);
    CHECK(evaluate(position("k7/8/1K6/1P6/8/8/8/2B5 w - - 0 1")) > 200);
}

TEST_CASE("a pawn more is worth less when the bishops never meet") {
    const int same = evaluate(position("4k3/8/2b5/8/8/1P3B2/1P6/4K3 w - - 0 1"));
    const int other = evaluate(position("4k3/8/2b5/8/8/1P6/1P3B2/4K3 w - - 0 1"));
    CHECK(same > 100);
    CHECK(other < same);
    CHECK(other > 0);
}

TEST_CASE("the small terms do not outweigh the scale in the initial array") {
    const Position start;
    CHECK(std::abs(evaluate(start)) <= 50);
    using board::Square;
    for (const auto& [square, pawns] :
         {std::pair(Square::d8, 9), std::pair(Square::a8, 5), std::pair(Square::h8, 5),
          std::pair(Square::c8, 3), std::pair(Square::g8, 3), std::pair(Square::e7, 1)}) {
        board::Setup setup = start.setup();
        setup.remove(square);
        setup.castling = {};
        const auto made = Position::from(setup);
        REQUIRE(made.ok());
        INFO(fen(*made));
        CHECK(std::abs(evaluate(*made) - 100 * pawns) <= 100);
    }
}

TEST_CASE("a passed pawn is worth more the nearer it is, and most when no king can catch it") {
    int before = -1000;
    for (const char* fen : {"4k3/8/8/8/8/8/P6p/4K2R w - - 0 1", "4k3/8/8/8/P7/8/7p/4K2R w - - 0 1",
                            "4k3/8/P7/8/8/8/7p/4K2R w - - 0 1"}) {
        INFO(fen);
        const int value = evaluate(position(fen));
        CHECK(value > before);
        before = value;
    }
    CHECK(evaluate(position("8/8/8/P6k/8/8/8/K7 w - - 0 1")) > 300);
    CHECK(evaluate(position("8/8/8/P2k4/8/8/8/K7 w - - 0 1")) < 200);
}

TEST_CASE("officers are men that can move without harm") {
    using solve::has_officers;
    CHECK_FALSE(has_officers(position("4k3/4p3/8/8/8/8/4P3/4K3 w - - 0 1"), Color::white));
    CHECK_FALSE(has_officers(position("4k3/4p3/8/8/8/8/4P3/4KB2 w - - 0 1"), Color::white));
    CHECK(has_officers(position("4k3/4p3/8/8/8/8/4P3/4KR2 w - - 0 1"), Color::white));
    CHECK(has_officers(position("4k3/4p3/8/8/8/8/4P3/3NKB2 w - - 0 1"), Color::white));
    CHECK_FALSE(has_officers(position("4k3/4p3/8/8/8/8/4P3/3NKB2 w - - 0 1"), Color::black));
}
