#include "rules/problem_lines.hpp"

#include <algorithm>

namespace rules {
namespace {

using board::Move;
using board::Position;

class Collector {
  public:
    Collector(const Position& position, const solve::Problem& problem, solve::Solver& solver)
        : m_position(position), m_left(problem.moves - 1), m_solver(solver) {}

    /// `begun` (set play: the reply alone) and the quickest mate after it; nothing without one.
    void add(Phase phase, std::vector<Move> begun, const Position& answered) {
        constexpr std::size_t most = 64;
        const auto same = [&](const ProblemLine& line) { return line.phase == phase; };
        if (std::count_if(m_lines.begin(), m_lines.end(), same) >= static_cast<std::ptrdiff_t>(most)) {
            return;
        }
        const solve::Mates mates = m_solver.mates(answered, m_left);
        if (mates.length) {
            begun.insert(begun.end(), mates.line.begin(), mates.line.end());
            m_lines.push_back({phase, {m_position, std::move(begun), phase == Phase::set_play}});
        }
    }

    [[nodiscard]] std::vector<ProblemLine>& lines() { return m_lines; }

  private:
    const Position& m_position;
    int m_left; ///< moves of the solver after the first
    solve::Solver& m_solver;
    std::vector<ProblemLine> m_lines;
};

} // namespace

std::vector<ProblemLine> lines_of(const Position& position, const solve::Problem& problem,
                                  solve::Solver& solver) {
    Collector collector(position, problem, solver);
    const Position after_key = position.after(problem.key);
    for (const solve::Variation& variation : problem.variations.value_or(std::vector<solve::Variation>())) {
        collector.add(Phase::variation, {problem.key, variation.reply}, after_key.after(variation.reply));
    }
    if (const auto passed = position.passed(); passed && problem.set_play) {
        for (const solve::SetMate& set : problem.set_play->mates) {
            collector.add(Phase::set_play, {set.reply}, passed->after(set.reply));
        }
    }
    for (const solve::Try& tried : problem.tries) {
        const Position after = position.after(tried.move);
        for (const Move reply : after.legal_moves()) {
            const auto& refutations = tried.refutations;
            if (std::find(refutations.begin(), refutations.end(), reply) == refutations.end()) {
                collector.add(Phase::attempt, {tried.move, reply}, after.after(reply));
            }
        }
    }
    return std::move(collector.lines());
}

} // namespace rules
