#include "motif/study.hpp"

#include "catch.hpp"
#include "examples.hpp"
#include "motif/geometry.hpp"

using board::Square;
using motif::Study;

namespace {

/// A study and what it leans on.
struct Case {
    solve::Solver solver{solve::budget_of(solve::Effort::review)};
    motif::SolutionLine line;
    Study study;
    Case(std::string_view fen, std::string_view movetext)
        : line(examples::line(fen, movetext)), study(line, solver) {}
};

} // namespace

TEST_CASE("a study counts material from the solver's side", "[motif][study]") {
    const Case c("3q2k1/5pp1/8/4N3/8/8/5PP1/6KR w - - 0 1", "1.Rh8+ Kxh8 2.Nxf7+ Kg8 3.Nxd8");
    const Study& study = c.study;
    REQUIRE(study.plies() == 5);
    CHECK(study.balance(0) == -1);
    CHECK(study.balance(2) == -6);
    CHECK(study.balance(5) == 4);
    CHECK(study.gain() == 5);
    CHECK(study.wins());
    CHECK_FALSE(study.mates());
    CHECK(study.gives_check(0));
    CHECK(study.captured(1) == board::Role::rook);
    CHECK(study.captured_worth(2) == 1);
    CHECK_FALSE(study.passed(0).has_value()); // a check is its own threat
    CHECK(study.sound(0, study.balance(0)));
}

TEST_CASE("for Black as the solver too", "[motif][study]") {
    const Case c("6k1/8/8/8/4n3/8/5q2/R5K1 w - - 0 1", "1.Kh1 Qf1+ 2.Rxf1");
    CHECK(c.study.us() == board::Color::white);
    const Case d("4r1k1/8/8/8/8/8/4Q3/6K1 b - - 0 1", "1...Rxe2");
    CHECK(d.study.us() == board::Color::black);
    CHECK(d.study.balance(0) == -4);
    CHECK(d.study.balance(1) == 5);
}

TEST_CASE("men are followed through the line", "[motif][study]") {
    const Case c("3q2k1/5pp1/8/4N3/8/8/5PP1/6KR w - - 0 1", "1.Rh8+ Kxh8 2.Nxf7+ Kg8 3.Nxd8");
    const Study& study = c.study;
    CHECK(study.follow(Square::g8, 0, 2) == Square::h8);
    CHECK(study.follow(Square::g8, 0, 4) == Square::g8);
    CHECK_FALSE(study.follow(Square::h1, 0, 2).has_value());
    CHECK(study.taken(Square::d8, 0, 4) == 4U);
    CHECK_FALSE(study.taken(Square::d8, 0, 3).has_value());
    CHECK_FALSE(study.taken(Square::h1, 0, 4).has_value()); // the defender took that one
}

TEST_CASE("a man taken en passant is followed to its own square", "[motif][study]") {
    const Case c("6k1/2n1n3/8/3pP3/8/8/5PPP/6K1 w - d6 0 1", "1.exd6 Nc6 2.dxc7");
    CHECK(c.study.taken(Square::d5, 0, 0) == 0U);
    CHECK(c.study.taken(Square::c7, 0, 2) == 2U);
}

TEST_CASE("mates are forced only when no defence lasts longer", "[motif][study]") {
    const Case forced("6k1/1p3ppp/2n5/8/8/8/5PPP/2RR2K1 w - - 0 1", "1.Rxc6 bxc6 2.Rd8#");
    CHECK(forced.study.mates());
    CHECK_FALSE(forced.study.mate_forced(0)); // another reply avoids the mate
    CHECK(forced.study.mate_forced(2));
    CHECK(forced.study.sound(0, forced.study.balance(0))); // but loses the knight
    const Case smothered("5r1k/6pp/7N/8/8/1Q6/6PP/6K1 w - - 0 1", "1.Qg8+ Rxg8 2.Nf7#");
    CHECK(smothered.study.mate_forced(0));
    CHECK(smothered.study.only_move(0));
}

TEST_CASE("other moves that do as well are found", "[motif][study]") {
    const Case two("7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 1", "1.Ra8#");
    CHECK_FALSE(two.study.only_move(0));
    const Case rook("k7/8/1r6/8/3N4/8/8/K5R1 w - - 0 1", "1.Rg8+");
    CHECK_FALSE(rook.study.only_move(0));
    const Case fork("3k4/8/8/8/8/8/1r6/R3K3 w Q - 0 1", "1.O-O-O+ Kc7 2.Kxb2");
    CHECK(fork.study.only_move(0));
}

TEST_CASE("drop-tests compare what a move brings", "[motif][study]") {
    const Case c("3qk3/4pp2/2p5/8/2B5/8/6PP/3QK3 w - - 0 1", "1.Bxf7+ Kxf7 2.Qxd8");
    const auto back = motif::relocated(c.study.at(2), Square::f7, Square::e8);
    REQUIRE(back);
    CHECK(c.study.fails_in(*back, 2)); // the king guards his queen again
    const auto pawn = motif::without(c.study.at(2), Square::c6);
    REQUIRE(pawn);
    CHECK_FALSE(c.study.fails_in(*pawn, 2)); // a bystander
}

TEST_CASE("a study stops before an illegal move and finds nothing in an empty line", "[motif][study]") {
    motif::SolutionLine line = examples::line("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", "1.Rd7");
    line.moves.push_back(board::Move::normal(Square::a1, Square::a8));
    line.moves.push_back(board::Move());
    solve::Solver solver(solve::budget_of(solve::Effort::draft));
    CHECK(Study(line, solver).plies() == 1);
    line.moves.clear();
    CHECK(motif::find(line, solver).empty());
}

TEST_CASE("set play is a line that leaves out the solver's first move", "[motif][study]") {
    const auto of = [](std::string_view fen, std::string_view line) {
        motif::SolutionLine set = examples::line(fen, line);
        set.start = examples::position(std::string(fen.substr(0, fen.find(" b "))) + " w - - 0 1");
        set.set_play = true;
        return set;
    };
    // The crossing lines of rules/motif/grimshaw.yaml, where one of the two mates is ready in the diagram.
    const motif::SolutionLine crossing = of("br6/8/P3Q3/kpPp4/1N1P4/PP1NK3/8/8 b - - 0 1", "1...Bb7 2.Qb6#");
    solve::Solver solver(solve::budget_of(solve::Effort::review));
    const Study study(crossing, solver);
    CHECK(study.first() == 2);
    CHECK(study.plies() == 3);
    CHECK(study.mates());
    CHECK_FALSE(examples::level(motif::find(crossing, solver), "grimshaw")); // the other half needs the key
    CHECK(examples::level(motif::find(crossing, solver, {"grimshaw"}), "grimshaw") ==
          motif::Level::functional);
    const motif::SolutionLine block = of("8/6K1/8/6kp/4Q3/6N1/8/8 b - - 0 1", "1...h4 2.Qf5#");
    CHECK(examples::level(motif::find(block, solver), "self-block") == motif::Level::decisive);
}

TEST_CASE("what the move before took may be expected to be retaken", "[motif][study]") {
    motif::SolutionLine line =
        examples::line("3qk3/5ppp/5b2/3Q4/8/2N5/5PPP/4K3 b - - 0 1", "1...Bxc3+ 2.Ke2 Qxd5");
    CHECK(examples::level(examples::evidence(line), "zwischenzug") == motif::Level::seen);
    line.lead_in_capture = Square::d5;
    CHECK(examples::level(examples::evidence(line), "zwischenzug") >= motif::Level::functional);
}
