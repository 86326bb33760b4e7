#pragma once
// The value of a quiet position.

#include "board/position.hpp"

namespace solve {

/// Hundredths of a pawn for the side to move: the 1-3-3-5-9 scale and small terms for what decides tactics
/// puzzles. The same position with colours exchanged has the same value. The position need not be quiet, but
/// the value then means little.
[[nodiscard]] int evaluate(const board::Position& position);

/// Neither king, pawns and one minor piece: the side has something that can move without harm.
[[nodiscard]] bool has_officers(const board::Position& position, board::Color side);

} // namespace solve
