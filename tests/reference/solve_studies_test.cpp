// Studies and textbook endings. A search may leave them open; what it says must not be wrong.

#include "solve_reading.hpp"

using board::Color;
using board::Position;
using namespace solve_reference;
using solve::Aim;
using solve::Answer;
using solve::KeyTable;
using solve::Question;
using solve::Solver;
using solve::Standing;

namespace {

const solve::Budget effort = solve::budget_of(solve::Effort::review);

KeyTable table(const Position& at, const char* key, bool draw) {
    Question question;
    question.key = move(at, key);
    question.draw_suffices = draw;
    question.goal_score = draw ? 0 : question.goal_score;
    return Solver(effort).table(at, question);
}

/// The key is never said to fail, and no rival to do as well.
void check_sole(const Position& at, const KeyTable& judged) {
    CHECK(judged.moves.front().reaches_goal != Answer::no);
    for (const solve::MoveVerdict& v : judged.moves) {
        INFO(board::write_san(at, v.move));
        CHECK(v.standing != Standing::as_good);
        CHECK(v.standing != Standing::better);
        CHECK(v.standing != Standing::also_wins);
    }
}

struct Study {
    const char* what; ///< composer, source, year; from memory
    const char* fen;
    const char* key;
    bool draw;
};

} // namespace

TEST_CASE("studies with one key") {
    const auto study = GENERATE(values<Study>({
        {"R. Reti, Kagans Neueste Schachnachrichten, 1921", "7K/8/k1P5/7p/8/8/8/8 w - - 0 1", "Kg7", true},
        {"F. Saavedra (after Barbier), Glasgow Weekly Citizen, 1895", "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1", "c7",
         false},
        {"the same before its last point: the rook, not the queen", "8/2P5/8/8/3r4/8/2K5/k7 w - - 0 1",
         "c8=R", false},
    }));
    INFO(study.what);
    const Position at = position(study.fen);
    const KeyTable judged = table(at, study.key, study.draw);
    check_sole(at, judged);
}

TEST_CASE("Saavedra: the rook wins, the queen only draws by stalemate") {
    const Position at = position("8/2P5/8/8/3r4/8/2K5/k7 w - - 0 1");
    const KeyTable judged = table(at, "c8=R", false);
    CHECK(judged.moves.front().reaches_goal == Answer::yes);
    const solve::MoveVerdict* queen = judged.of(move(at, "c8=Q"));
    REQUIRE(queen != nullptr);
    CHECK(queen->reaches_goal == Answer::no);
    // 1.c8=Q Rc4+ 2.Qxc4 is stalemate.
    const Position end = after(at, "c8=Q Rc4+ Qxc4");
    CHECK(end.is_stalemate());
    CHECK(Solver(effort).reaches(end, Color::white, Aim::value(1)).answer == Answer::no);
}

TEST_CASE("endings of the handbooks are not called otherwise") {
    struct Ending {
        const char* what;
        const char* fen;
        bool white_wins; ///< else drawn
    };
    const auto ending = GENERATE(values<Ending>({
        {"rook and pawn with a bridge (Lucena, printed by Salvio 1634)", "1K6/1P1k4/8/8/8/8/r7/2R5 w - - 0 1",
         true},
        {"king on the sixth before its pawn, either to move: White", "4k3/8/4K3/4P3/8/8/8/8 w - - 0 1", true},
        {"king on the sixth before its pawn, either to move: Black", "4k3/8/4K3/4P3/8/8/8/8 b - - 0 1", true},
        {"opposition held: Black to move", "8/8/4k3/8/4K3/4P3/8/8 b - - 0 1", true},
        {"rook's pawn, king in the corner", "k7/8/1K6/P7/8/8/8/8 w - - 0 1", false},
        {"wrong bishop", "k7/8/1K6/P7/8/8/8/2B5 w - - 0 1", false},
        {"right bishop", "k7/8/1K6/P7/8/8/8/3B4 w - - 0 1", true},
        {"two knights", "8/8/8/3k4/8/3K4/3NN3/8 w - - 0 1", false},
        {"queen against a centre pawn on the seventh", "8/8/8/8/7Q/8/3pk3/7K w - - 0 1", true},
    }));
    INFO(ending.what);
    const Position at = position(ending.fen);
    const auto wins = Solver(effort).reaches(at, Color::white, Aim::value(200)).answer;
    const auto held = Solver(effort).reaches(at, Color::black, Aim::hold()).answer;
    CHECK(wins != (ending.white_wins ? Answer::no : Answer::yes));
    CHECK(held != (ending.white_wins ? Answer::yes : Answer::no));
}
