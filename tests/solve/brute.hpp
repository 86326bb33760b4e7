#pragma once
// Mates by trying everything: slow, and too simple to be wrong. Shares nothing with the room under test.

#include "board/position.hpp"

#include <optional>
#include <vector>

namespace solve_test {

/// The side to move mates with at most `moves` own moves.
bool mates(board::Position& position, int moves);
/// The side to move is mated, or will be by at most `moves` more moves of the other.
bool is_lost(board::Position& position, int moves);
std::optional<int> shortest_mate(board::Position position, int limit);
/// Every first move that forces mate with at most `moves` own moves.
std::vector<board::Move> mating_moves(board::Position position, int moves);

} // namespace solve_test
