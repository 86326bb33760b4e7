// Tries of published problems: each must be found, with its published refutation and no other.

#include "solve_reading.hpp"

using board::Position;
using namespace solve_reference;
using solve::Problem;
using solve::Solver;

namespace {

/// The reply that refutes a try as published; what is no try, or fails to more replies, has none.
std::string refutation(const Position& at, const Problem& problem, board::Move tried) {
    for (const solve::Try& found : problem.tries) {
        if (found.move == tried) {
            REQUIRE(found.refutations.size() == 1);
            return board::write_san(at.after(tried), found.refutations.front());
        }
    }
    return "no try";
}

} // namespace

TEST_CASE("every published try is found, and fails to the published reply alone") {
    const auto problems = rows("solve-composed.tsv"); // composer, source, year beside each
    CHECK(problems.size() == 24);
    std::size_t published = 0;
    for (const auto& fields : problems) {
        REQUIRE(fields.size() == 6);
        INFO(fields[0] << ", " << fields[1] << ": " << fields[2]);
        const Position at = position(fields[2]);
        const int moves = std::stoi(fields[3]);
        Solver solver(ample);
        const solve::Mates mates = solver.mates(at, moves);
        REQUIRE(mates.keys.size() == 1);
        const Problem problem = solver.problem(at, {mates.keys.front(), moves});
        CHECK(problem.complete);
        CHECK(problem.key_solves == solve::Answer::yes);
        CHECK((problem.key_checks || problem.threats.has_value()));
        for (const std::string& entry : parts(fields[5], ";")) {
            INFO(entry);
            const auto try_and_reply = parts(entry, "> ");
            REQUIRE(try_and_reply.size() == 2);
            const board::Move tried = move(at, try_and_reply[0]);
            const Position after = at.after(tried);
            CHECK(refutation(at, problem, tried) == board::write_san(after, move(after, try_and_reply[1])));
            ++published;
        }
        // The key is no try, and no try is a key.
        CHECK(refutation(at, problem, mates.keys.front()) == "no try");
    }
    CHECK(published == 50);
}
