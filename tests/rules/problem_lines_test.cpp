// What a problem shows beside its printed lines: every line found is legal and ends in mate.
#include "catch.hpp"
#include "rules/problem_lines.hpp"

#include "from_text.hpp"

#include <algorithm>

using namespace rules;

namespace {

std::vector<ProblemLine> lines(std::string_view fen, std::string_view key) {
    const board::Position position = from_text::position(fen);
    solve::Solver solver(solve::budget_of(solve::Effort::review));
    const auto resolved = board::resolve(position, *board::read_san(key));
    REQUIRE(resolved.ok());
    return lines_of(position, solver.problem(position, {*resolved, 2}), solver);
}

std::ptrdiff_t count(const std::vector<ProblemLine>& lines, Phase phase) {
    return std::count_if(lines.begin(), lines.end(),
                         [&](const ProblemLine& line) { return line.phase == phase; });
}

bool ends_in_mate(const motif::SolutionLine& line) {
    board::Position position = line.set_play ? *line.start.passed() : line.start;
    for (const board::Move move : line.moves) {
        REQUIRE(position.is_legal(move));
        position.make(move);
    }
    return position.is_checkmate();
}

} // namespace

TEST_CASE("the lines of a problem: variations, set play and tries, each to its mate") {
    // Set play and tries of this setting stand in tests/solve/problem_test.cpp and were gone through by hand.
    const auto block = lines("br6/8/P3Q3/kpPp4/1N1P4/PP1NK3/8/8 w - - 0 1", "Ne5");
    CHECK(count(block, Phase::variation) == 10);
    CHECK(count(block, Phase::set_play) == 7);
    CHECK(count(block, Phase::attempt) == 0);
    const auto threat = lines("8/1R6/8/4N3/8/5KR1/8/n3k3 w - - 0 1", "Rd7");
    CHECK(count(threat, Phase::set_play) == 1);
    CHECK(count(threat, Phase::attempt) > 0);
    for (const auto& found : {block, threat}) {
        for (const ProblemLine& line : found) {
            CHECK(line.line.set_play == (line.phase == Phase::set_play));
            CHECK(line.line.moves.size() == (line.line.set_play ? 2U : 3U));
            CHECK(ends_in_mate(line.line));
        }
    }
}
