#pragma once
// What changed hands between two positions, told so that a person can count it.

#include "board/position.hpp"

#include <string>

namespace rules {

/// "queen for rook and knight: 9 against 8", "a pawn for nothing", "no man is won", seen from `side`. Men
/// that both lost, or won by promotion, cancel out.
[[nodiscard]] std::string account_of(const board::Position& before, const board::Position& after,
                                     board::Color side);

} // namespace rules
