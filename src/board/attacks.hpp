#pragma once
// What each man attacks (FIDE Laws 3.1: pins ignored, lines end at the first occupied square).

#include "board/bitboard.hpp"

namespace board {

[[nodiscard]] Bitboard king_attacks(Square from);
[[nodiscard]] Bitboard knight_attacks(Square from);
[[nodiscard]] Bitboard pawn_attacks(Color color, Square from);
[[nodiscard]] Bitboard bishop_attacks(Square from, Bitboard occupied);
[[nodiscard]] Bitboard rook_attacks(Square from, Bitboard occupied);
[[nodiscard]] Bitboard queen_attacks(Square from, Bitboard occupied);
[[nodiscard]] Bitboard attacks(Piece piece, Square from, Bitboard occupied);

/// Squares strictly between two squares of one rank, file or diagonal; empty otherwise.
[[nodiscard]] Bitboard between(Square a, Square b);
/// The whole rank, file or diagonal through both, edge to edge; empty if they share none.
[[nodiscard]] Bitboard line_through(Square a, Square b);

} // namespace board
