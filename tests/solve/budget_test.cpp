// The same bytes every time, and budgets that are kept.

#include "brute.hpp"
#include "positions.hpp"

using board::Color;
using board::Position;
using namespace solve_test;
using solve::Aim;
using solve::Answer;
using solve::Budget;
using solve::Certainty;
using solve::Solver;

namespace {

const std::vector<const char*>& puzzles() {
    static const std::vector<const char*> fens{
        "1k6/1p6/7R/8/5K2/4Q3/8/8 w - - 0 1",
        "2q3k1/5ppp/8/3N4/8/8/5PPP/6K1 w - - 0 1",
        "5rk1/5ppp/np6/8/8/7P/2B2PP1/3Q2K1 w - - 0 1",
        "6k1/6p1/8/7Q/8/8/qr4PP/7K w - - 0 1",
        "r1bq1rk1/ppp2ppp/2np1n2/2b1p3/2B1P3/2NP1N2/PPP2PPP/R1BQ1RK1 w - - 0 7",
    };
    return fens;
}

std::string told(const solve::Line& line) {
    std::string text;
    for (const board::Move m : line) {
        text += board::write_coordinate(m) + " ";
    }
    return text;
}

std::string told(const solve::Value& value) {
    return std::to_string(value.score) + "/" + std::to_string(value.mate_in.value_or(0));
}

std::string told(const solve::Judgement& judged) {
    return std::to_string(static_cast<int>(judged.answer)) + " " +
           std::string(solve::name(judged.certainty)) + " " + told(judged.value) + " " + told(judged.line) +
           std::to_string(judged.depth) + " " + std::to_string(judged.nodes);
}

std::string told(const solve::Mates& mates) {
    return std::to_string(mates.length.value_or(0)) + " " + told(mates.keys) + "| " + told(mates.line) +
           (mates.complete ? "complete " : "cut short ") + std::to_string(mates.nodes);
}

std::string told(const solve::KeyTable& table) {
    std::string text = std::to_string(table.shortest_mate.value_or(0)) + " " +
                       std::to_string(table.mate_searched_to) + " " + std::to_string(table.nodes) + "\n";
    for (const solve::MoveVerdict& v : table.moves) {
        text += std::to_string(static_cast<int>(v.standing)) + " " +
                std::to_string(static_cast<int>(v.reaches_goal)) + " " +
                std::string(solve::name(v.certainty)) + " " + told(v.value) + " " +
                std::to_string(static_cast<int>(v.value_is)) + " " + told(v.line) + std::to_string(v.depth) +
                " " + std::to_string(v.nodes) + "\n";
    }
    return text;
}

/// Everything that can be asked about one puzzle, in one order.
std::string everything(Solver& solver, const Position& at, const solve::Question& question) {
    std::string text = told(solver.mates(at, 2)) + "\n";
    text += told(solver.reaches(at, at.turn(), Aim::mate(2))) + "\n";
    text += told(solver.value(at, at.turn())) + "\n";
    text += told(solver.reaches(at, !at.turn(), Aim::hold())) + "\n";
    text += told(solver.table(at, question));
    return text + std::to_string(solver.nodes_used());
}

constexpr Budget small{.mate = 20'000,
                       .value = 10'000,
                       .question = 4'000,
                       .puzzle = 100'000,
                       .mate_moves = 2,
                       .table_men = 0,
                       .depth = 4};

} // namespace

TEST_CASE("fresh solvers tell the same bytes, every node of them") {
    for (const char* text : puzzles()) {
        INFO(text);
        const Position at = position(text);
        Solver first(small);
        Solver second(small);
        const std::string told_first = everything(first, at, {});
        CHECK(told_first == everything(second, at, {}));
        Solver moved = std::move(second);
        CHECK(moved.nodes_used() == first.nodes_used());
        // What a memory holds is a function of what was asked, too.
        CHECK(everything(first, at, {}) == everything(moved, at, {}));
    }
}

TEST_CASE("counters of the diagram do not change an answer") {
    Solver first(small);
    Solver second(small);
    const Position early = position("2q3k1/5ppp/8/3N4/8/8/5PPP/6K1 w - - 0 1");
    const Position late = position("2q3k1/5ppp/8/3N4/8/8/5PPP/6K1 w - - 99 170");
    CHECK(everything(first, early, {}) == everything(second, late, {}));
}

TEST_CASE("a puzzle never costs more nodes than its budget") {
    constexpr solve::Nodes slack = 256; // the node that finds the account empty, once a branch on the way out
    for (const solve::Nodes limit : {0U, 1U, 10U, 100U, 1'000U, 20'000U}) {
        Budget budget = small;
        budget.puzzle = limit;
        for (const char* text : puzzles()) {
            INFO(text << " within " << limit);
            const Position at = position(text);
            Solver solver(budget);
            const solve::KeyTable table = solver.table(at, {});
            CHECK(solver.nodes_used() <= limit + slack);
            CHECK(table.moves.size() == at.legal_moves().size());
            static_cast<void>(solver.mates(at, 3));
            static_cast<void>(solver.value(at, at.turn()));
            static_cast<void>(solver.reaches(at, !at.turn(), Aim::value(100)));
            static_cast<void>(solver.reaches(at, at.turn(), Aim::mate(5)));
            CHECK(solver.nodes_used() <= limit + slack);
        }
    }
}

TEST_CASE("each question keeps to its share") {
    constexpr solve::Nodes slack = 256;
    for (const char* text : puzzles()) {
        INFO(text);
        const Position at = position(text);
        CHECK(Solver(small).mates(at, 6).nodes <= small.mate + slack);
        CHECK(Solver(small).reaches(at, at.turn(), Aim::mate(6)).nodes <= small.mate + slack);
        CHECK(Solver(small).reaches(at, at.turn(), Aim::value(150)).nodes <= small.question + slack);
        CHECK(Solver(small).value(at, at.turn()).nodes <= small.value + slack);
        Solver solver(small);
        const solve::Nodes told_nodes = solver.table(at, {}).nodes;
        CHECK(told_nodes == solver.nodes_used());
    }
}

TEST_CASE("with next to nothing to spend the answer is open, never wrong") {
    const Budget tiny{
        .mate = 3, .value = 3, .question = 3, .puzzle = 12, .mate_moves = 3, .table_men = 0, .depth = 7};
    const Position won = position("r1bq1rk1/ppp2ppp/2np1n2/2b1p3/2B1P3/2NP1N2/PPP2PPP/R1BQ1RK1 w - - 0 7");
    for (const Color side : {Color::white, Color::black}) {
        const auto judged = Solver(tiny).reaches(won, side, Aim::value(0));
        CHECK(judged.answer == Answer::open);
        CHECK(judged.certainty == Certainty::open);
        CHECK(Solver(tiny).value(won, side).answer == Answer::open);
        CHECK(Solver(tiny).reaches(won, side, Aim::mate(3)).answer == Answer::open);
    }
    const solve::Mates mates = Solver(tiny).mates(won, 3);
    CHECK_FALSE(mates.complete);
    CHECK_FALSE(mates.length.has_value());
    const solve::KeyTable table = Solver(tiny).table(won, {});
    CHECK_FALSE(table.mate_search_complete);
    for (const solve::MoveVerdict& v : table.moves) {
        CHECK(v.certainty == Certainty::open);
        CHECK(v.reaches_goal == Answer::open);
    }
}

TEST_CASE("whatever the mate budget, a yes and a no are right") {
    Random random(79);
    int yes = 0;
    int no = 0;
    int open = 0;
    for (int i = 0; i < 60; ++i) {
        const auto at = diagram(random, i % 2 == 0 ? "KQNkpp" : "KRRPkrp", Color::white);
        if (!at) {
            continue;
        }
        INFO(fen(*at));
        const auto length = shortest_mate(*at, 2);
        for (const solve::Nodes mate : {2U, 30U, 300U, 3'000U}) {
            Budget budget = small;
            budget.mate = mate;
            INFO(mate);
            const auto judged = Solver(budget).reaches(*at, Color::white, Aim::mate(2));
            yes += judged.answer == Answer::yes ? 1 : 0;
            no += judged.answer == Answer::no ? 1 : 0;
            open += judged.answer == Answer::open ? 1 : 0;
            CHECK((judged.answer != Answer::yes || length));
            CHECK((judged.answer != Answer::no || !length));
            CHECK((judged.answer == Answer::open) == (judged.certainty == Certainty::open));
            const solve::Mates mates = Solver(budget).mates(*at, 2);
            if (mates.complete) {
                CHECK(mates.length == length);
            } else if (mates.length) { // found, though not all was looked at
                CHECK(length.value_or(3) <= *mates.length);
            }
            solve::Question question;
            question.mate_in = 2;
            const solve::KeyTable table = Solver(budget).table(*at, question);
            for (const solve::MoveVerdict& v : table.moves) {
                Position after = at->after(v.move);
                if (v.certainty == Certainty::proved) {
                    CHECK((v.reaches_goal == Answer::yes) == is_lost(after, 1));
                }
                CHECK((v.reaches_goal == Answer::open || v.certainty == Certainty::proved));
            }
        }
    }
    CHECK(yes > 0);
    CHECK(no > 0);
    CHECK(open > 0);
}

TEST_CASE("a diagram with more moves than any game gives is searched like any other") {
    const Position full = position("qqqqqqqk/q6q/q6q/q6q/q6q/qq5q/PPq4q/KNqqqqqq w - - 0 1");
    const Position turned = *full.passed();
    REQUIRE(turned.legal_moves().size() > 256);
    for (const Position& diagram : {full, turned}) {
        solve::Solver solver(solve::budget_of(solve::Effort::draft));
        solve::Question question;
        question.mate_in = 2;
        CHECK(solver.table(diagram, question).moves.size() == diagram.legal_moves().size());
        CHECK(solver.value(diagram, board::Color::white).nodes > 0);
    }
}
