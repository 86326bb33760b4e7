#pragma once
// What a composed mate shows beside its printed lines: the variations after the key, the set play, the tries.

#include "motif/motif.hpp"
#include "solve/solver.hpp"

#include <vector>

namespace rules {

enum class Phase : std::uint8_t { variation, set_play, attempt };

/// A line that ends in mate, as far as the proof that found it reaches.
struct ProblemLine {
    Phase phase = Phase::variation;
    motif::SolutionLine line;
};

/// Variations first, then set play, then tries, in the order of `problem`; of several mates the first. At
/// most 64 of each.
[[nodiscard]] std::vector<ProblemLine> lines_of(const board::Position& position,
                                                const solve::Problem& problem, solve::Solver& solver);

} // namespace rules
