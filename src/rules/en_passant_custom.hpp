#pragma once
// When the en-passant field of a FEN is filled: there are three customs, and they differ in bytes, not in
// play.

#include "collection/puzzle.hpp"

namespace rules {

/// After every double step (PGN standard 16.1.3.4), where a pawn stands ready to take, or where the capture
/// is legal.
enum EnPassantCustom : unsigned { always = 1, ready = 2, legal = 4, any_custom = 7 };

/// Those by which the field may have been written: any_custom where the puzzle tells nothing, because the
/// capture is legal, the field contradicts the diagram, or it is empty and the last move is not proved.
[[nodiscard]] unsigned customs_of(const collection::Puzzle& puzzle);

} // namespace rules
