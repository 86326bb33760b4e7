#pragma once
// Static exchanges for the search (the public questions are in solver.hpp).

#include "board/position.hpp"

namespace solve {

/// Pawns won (or lost, negative) by `move` and the exchange on its target square, both sides taking cheapest
/// first and stopping when it pays to stop; absolute pins obeyed. A promotion counts the man it makes.
[[nodiscard]] int exchange_value(const board::Position& position, board::Move move);

} // namespace solve
