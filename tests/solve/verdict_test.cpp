
#include "positions.hpp"
#include "shared_tables.hpp"
#include "solve/endgame_tables.hpp"
#include "solve/solver.hpp"
using board::Color;
using board::Position;
using namespace solve_test;
using namespace solve;

namespace {

Budget ample_with_tables() {
    Budget budget = ample;
    budget.table_men = EndgameTables::most_men;
    return budget;
}

} // namespace

TEST_CASE("the line of a mate begins with the first key") {
    for (const char* fen : {"1k6/1p6/4K2R/8/8/4Q3/8/8 w - - 0 1", "8/8/8/p2Q4/5K2/8/8/5k2 w - - 0 1"}) {
        const Position at = position(fen);
        const Mates mates = Solver(ample).mates(at, 3);
        REQUIRE_FALSE(mates.line.empty());
        CHECK(mates.line.front() == mates.keys.front());
    }
}

// 1.d7+ Kd8 2.Kd6 is stalemate.
TEST_CASE("a king that stands before the last pawn holds") {
    const Position at = position("4k3/8/3PK3/8/8/8/8/8 w - - 0 1");
    CHECK(Solver(ample_with_tables(), &shared_tables()).reaches(at, Color::black, Aim::hold()).answer ==
          Answer::yes);
}

TEST_CASE("a key that lets the fork go is refuted though its exact value never settles") {
    const Position at = position("2q3k1/5ppp/8/3N4/8/8/5PPP/6K1 w - - 0 1");
    Question question;
    question.key = move(at, "h3");
    const KeyTable table = Solver(budget_of(Effort::review)).table(at, question);
    CHECK(table.moves.front().reaches_goal == Answer::no);
}

// Philidor 1777, the opposition, and a pawn on the seventh: handbook draws.
TEST_CASE("drawn endings of the handbooks are not called lost") {
    for (const char* fen : {
#ifdef NDEBUG // the tables behind it take unoptimised builds minutes
             "4k3/7R/r7/3KP3/8/8/8/8 w - - 0 1",
#endif
             "8/8/4k3/8/4K3/4P3/8/8 w - - 0 1", "8/8/8/8/8/7Q/1kp5/7K w - - 0 1"}) {
        INFO(fen);
        const Position at = position(fen);
        CHECK(Solver(budget_of(Effort::review), &shared_tables())
                  .reaches(at, Color::white, Aim::value(200))
                  .answer != Answer::yes);
        CHECK(Solver(budget_of(Effort::review), &shared_tables())
                  .reaches(at, Color::black, Aim::hold())
                  .answer != Answer::no);
    }
}

TEST_CASE("the move that wins is better than a key that is mated at once") {
    const Position at = position("2q3k1/5ppp/8/3N4/8/8/5PPP/6K1 w - - 0 1");
    Question question;
    question.key = move(at, "Kh1");
    const KeyTable table = Solver(budget_of(Effort::review)).table(at, question);
    CHECK(table.of(move(at, "Ne7+"))->standing == Standing::better);
}

// Lasker - Thomas, London 1912, from memory: 11.Qxh7+ mates in seven, as the whole search says.
TEST_CASE("a mate that is longer than the goal is no yes, however little the complete search may spend") {
    const Position at = position("rn3rk1/pbppq1pp/1p2pb2/4N2Q/3PN3/3B4/PPP2PPP/R3K2R w KQ - 0 11");
    for (const Nodes nodes : {1'000U, 5'000U, 20'000U, 50'000U}) {
        Budget budget = ample;
        budget.mate = nodes;
        for (const int goal : {4, 5, 6}) {
            INFO(nodes << " nodes, mate in " << goal);
            Question question;
            question.key = move(at, "Qxh7+");
            question.mate_in = goal;
            CHECK(Solver(budget).table(at, question).moves.front().reaches_goal != Answer::yes);
            const Position after = at.after(*question.key);
            CHECK(Solver(budget).reaches(after, Color::white, Aim::mate(goal - 1)).answer != Answer::yes);
            CHECK(Solver(budget).mates(at, goal).length == std::nullopt);
        }
    }
}
