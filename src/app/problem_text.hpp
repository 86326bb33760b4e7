#pragma once
// What a direct mate has to show beside its key, in the words of the trade.

#include "solve/solver.hpp"

#include <string>

namespace app {

/// Longer mates are searched, but nothing is told about their play: the proofs take too many nodes.
inline constexpr int longest_problem = 4;

/// A section of `sidelint solve`, its lines broken between items at about 100 columns. Empty unless the key
/// solves. What the budget left open is said to be.
[[nodiscard]] std::string problem_text(const board::Position& position, const solve::Problem& problem);

} // namespace app
