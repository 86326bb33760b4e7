#pragma once
// Counting the leaves of the tree of legal moves, to hold the move generator against published tables.

#include "board/position.hpp"

namespace board {

/// Leaves at `depth` plies; the last ply is counted, not made. perft(p, 0) is 1.
[[nodiscard]] std::uint64_t perft(Position& position, int depth);
/// The same with every leaf made and taken back: what a solver pays.
[[nodiscard]] std::uint64_t perft_made(Position& position, int depth);

} // namespace board
