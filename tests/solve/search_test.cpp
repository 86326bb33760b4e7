// Values of play: what is won is seen, draws are draws, thresholds agree with values.

#include "positions.hpp"
#include "solve/search.hpp"

using board::Color;
using board::Position;
using namespace solve_test;
using solve::Aim;
using solve::Answer;
using solve::Certainty;
using solve::Judgement;
using solve::Solver;

namespace {

Judgement reaches(const Position& at, Color solver, Aim aim) {
    return Solver(ample).reaches(at, solver, aim);
}

Judgement value(const Position& at, Color solver) {
    return Solver(ample).value(at, solver);
}

} // namespace

TEST_CASE("won material is seen, and no more than that") {
    struct Won {
        const char* what;
        const char* fen;
        int reached; ///< in hundredths of a pawn, side to move
        int missed;
    };
    const auto won = GENERATE(values<Won>({
        {"knight forks king and queen", "2q3k1/5ppp/8/3N4/8/8/5PPP/6K1 w - - 0 1", 200, 600},
        {"the fork that is taken", "2q2bk1/5ppp/8/3N4/8/8/5PPP/6K1 w - - 0 1", -1200, -400},
        {"pin wins the queen", "7q/8/8/4k3/8/8/7P/2B3K1 w - - 0 1", 200, 700},
        {"uncovered attack", "3q2k1/5ppp/8/8/8/3B4/5PPP/3R2K1 w - - 0 1", 200, 1000},
        {"the queen is guarded", "r2r2k1/5ppp/8/8/8/3B4/5PPP/3R2K1 w - - 0 1", -700, 0},
        {"the loose bishop is bait", "4r1k1/5ppp/8/3b4/8/8/5PPP/3R2K1 w - - 0 1", -450, -100},
        {"in-between check first", "r3r1k1/5ppp/8/8/8/2b4P/1P3PP1/4R1K1 w - - 0 1", -600, 100},
        {"no recapture: the back rank is weak", "6k1/1p3ppp/2n5/8/8/8/5PPP/2RR2K1 w - - 0 1", 500, 1500},
    }));
    for (const bool exchanged : {false, true}) {
        const Position at = exchanged ? mirrored(position(won.fen)) : position(won.fen);
        INFO(won.what << ": " << fen(at));
        const Judgement reached = reaches(at, at.turn(), Aim::value(won.reached));
        CHECK(reached.answer == Answer::yes);
        CHECK(play(at, reached.line).has_value());
        const Judgement missed = reaches(at, at.turn(), Aim::value(won.missed));
        CHECK(missed.answer == Answer::no);
        CHECK(missed.certainty != Certainty::open);
        CHECK((missed.certainty == Certainty::proved || missed.depth >= ample.depth));
        // The other side sees the same from behind.
        CHECK(reaches(at, !at.turn(), Aim::value(-won.reached + 200)).answer != Answer::yes);
    }
}

TEST_CASE("a mate is worth more than any material") {
    const Position at = position("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1");
    CHECK(reaches(at, Color::white, Aim::value(2000)).answer == Answer::yes);
    CHECK(reaches(at, Color::black, Aim::value(-2000)).answer == Answer::no);
    const Judgement mate = value(at, Color::white);
    CHECK(mate.answer == Answer::yes);
    CHECK(mate.value.mate_in == 1);
    CHECK(value(at, Color::black).value.mate_in == -1);
    const Judgement two = value(position("5r1k/6pp/7N/8/8/1Q6/6PP/6K1 w - - 0 1"), Color::white);
    CHECK(two.value.mate_in == 2);
}

TEST_CASE("where the game is over the value is a rule of the game") {
    const Position stalemate = position("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1");
    const Position dead = position("7k/8/6K1/8/8/5N2/8/8 b - - 0 1");
    for (const Position& at : {stalemate, dead}) {
        for (const Color side : {Color::white, Color::black}) {
            const Judgement judged = value(at, side);
            CHECK(judged.certainty == Certainty::proved);
            CHECK(judged.value.score == 0);
            CHECK_FALSE(judged.value.mate_in.has_value());
            CHECK(reaches(at, side, Aim::hold()).answer == Answer::yes);
            CHECK(reaches(at, side, Aim::value(1)).answer == Answer::no);
            CHECK(reaches(at, side, Aim::value(1)).certainty == Certainty::proved);
        }
    }
    const Position mate = position("R5k1/5ppp/8/8/8/8/8/6K1 b - - 0 1");
    CHECK(reaches(mate, Color::white, Aim::value(500)).certainty == Certainty::proved);
    CHECK(reaches(mate, Color::white, Aim::value(500)).answer == Answer::yes);
    CHECK(reaches(mate, Color::black, Aim::hold()).answer == Answer::no);
    CHECK(value(mate, Color::black).certainty == Certainty::proved);
}

TEST_CASE("draws by rule and by force are even") {
    struct Drawn {
        const char* what;
        const char* fen;
    };
    const auto drawn = GENERATE(values<Drawn>({
        {"perpetual check a queen and more behind", "6k1/6p1/8/7Q/8/8/qr4PP/7K w - - 0 1"},
        {"sacrifice for stalemate", "7k/7p/8/8/8/1q2r3/8/K5Q1 w - - 0 1"},
        {"the last pawn falls", "8/8/8/8/6k1/8/3p4/4K3 w - - 0 1"},
        {"stalemate in the corner", "7k/7P/8/6K1/8/8/8/8 w - - 0 1"},
        {"a knight cannot mate", "8/8/8/3k4/4p3/8/3N4/3K4 w - - 0 1"},
    }));
    INFO(drawn.what);
    const Position at = position(drawn.fen);
    for (const Color side : {Color::white, Color::black}) {
        INFO(board::name(side));
        CHECK(reaches(at, side, Aim::hold()).answer == Answer::yes);
        CHECK(reaches(at, side, Aim::value(200)).answer == Answer::no);
        CHECK(std::abs(value(at, side).value.score) <= 60);
    }
}

TEST_CASE("stalemate is seen past the last ply, too") {
    // Taking the rook stalemates; every other move loses the queen.
    const Position at = position("2Q5/8/8/8/2r5/8/2K5/k7 w - - 0 1");
    REQUIRE(at.after(move(at, "Qxc4")).is_stalemate());
    solve::Account account(10'000);
    solve::Memory memory(1'000);
    const solve::Endgames no_tables(nullptr, 0);
    solve::Search search(memory, account, no_tables);
    const auto found = search.run(at, {}, 1, {});
    REQUIRE(found.has_value());
    CHECK(found->score == 0);
}

TEST_CASE("who must move decides") {
    // The king before its pawn: Black to move must give way, White to move has nothing better than stalemate.
    const Position black = position("4k3/8/3PK3/8/8/8/8/8 b - - 0 1");
    const Position white = position("4k3/8/3PK3/8/8/8/8/8 w - - 0 1");
    CHECK(reaches(black, Color::white, Aim::value(200)).answer == Answer::yes);
    CHECK(reaches(white, Color::white, Aim::value(200)).answer == Answer::no);
}

TEST_CASE("holding is refused to the side that loses") {
    const Position at = position("2q3k1/5ppp/8/8/8/8/5PPP/R5K1 w - - 0 1");
    CHECK(reaches(at, Color::white, Aim::hold()).answer == Answer::no);
    CHECK(reaches(at, Color::black, Aim::hold()).answer == Answer::yes);
    CHECK(Aim::hold().score <= 0);
    CHECK(Aim::hold().score >= -100);
}

TEST_CASE("a value and its thresholds agree, from both sides") {
    int compared = 0;
    int seen = 0;
    walk(71, 8, 70, [&](const Position& at) {
        if (++seen % 29 != 0 || !at.has_legal_move()) {
            return;
        }
        INFO(fen(at));
        const Judgement own = value(at, Color::white);
        const Judgement other = value(at, Color::black);
        CHECK(own.value.score == -other.value.score);
        CHECK(play(at, own.line).has_value());
        if (own.answer != Answer::yes || own.value.mate_in) {
            return;
        }
        CHECK((own.certainty == Certainty::proved || own.depth >= ample.depth));
        CHECK(reaches(at, Color::white, Aim::value(own.value.score - 300)).answer != Answer::no);
        CHECK(reaches(at, Color::white, Aim::value(own.value.score + 300)).answer != Answer::yes);
        ++compared;
    });
    CHECK(compared >= 3);
}
