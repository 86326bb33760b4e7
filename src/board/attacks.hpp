#pragma once
// What each man attacks (FIDE Laws 3.1: pins ignored, lines end at the first occupied square).

#include "board/bitboard.hpp"

namespace board {

namespace detail {

/// The lines through a square without the square itself.
struct Lines {
    Bitboard diagonal;      ///< a1-h8 direction
    Bitboard anti_diagonal; ///< a8-h1 direction
    Bitboard rank;
    Bitboard file;
};

extern const std::array<Lines, 64> lines;
extern const std::array<Bitboard, 64> king_table;
extern const std::array<Bitboard, 64> knight_table;
extern const std::array<std::array<Bitboard, 64>, 2> pawn_table;
/// [file][inner six occupied squares]: reach along a rank, repeated on all eight ranks.
extern const std::array<std::array<Bitboard, 64>, 8> rank_reach;
/// [rank][inner six occupied squares]: reach along the a-file.
extern const std::array<std::array<Bitboard, 64>, 8> file_reach;
extern const std::array<std::array<Bitboard, 64>, 64> between_table;
extern const std::array<std::array<Bitboard, 64>, 64> line_table;

/// A multiplication gathers the six inner squares of a line with one square a file into the top bits: no
/// search, and the tables stay small enough for the first cache.
inline Bitboard reach(Square from, Bitboard line, Bitboard occupied) {
    const std::uint64_t inner = ((line & occupied).bits() * file_bits(1).bits()) >> 58;
    return rank_reach[static_cast<std::size_t>(file_of(from))][inner] & line;
}

inline Bitboard reach_on_file(Square from, Bitboard occupied) {
    constexpr std::uint64_t to_top_row = 0x0004081020408000;
    const std::uint64_t on_a_file = (occupied.bits() >> file_of(from)) & file_bits(0).bits();
    const std::uint64_t inner = (on_a_file * to_top_row) >> 58;
    return Bitboard(file_reach[static_cast<std::size_t>(rank_of(from))][inner].bits() << file_of(from));
}

} // namespace detail

[[nodiscard]] inline Bitboard king_attacks(Square from) {
    return detail::king_table[static_cast<std::size_t>(index(from))];
}
[[nodiscard]] inline Bitboard knight_attacks(Square from) {
    return detail::knight_table[static_cast<std::size_t>(index(from))];
}
[[nodiscard]] inline Bitboard pawn_attacks(Color color, Square from) {
    return detail::pawn_table[index(color)][static_cast<std::size_t>(index(from))];
}
[[nodiscard]] inline Bitboard bishop_attacks(Square from, Bitboard occupied) {
    const detail::Lines& lines = detail::lines[static_cast<std::size_t>(index(from))];
    return detail::reach(from, lines.diagonal, occupied) | detail::reach(from, lines.anti_diagonal, occupied);
}
[[nodiscard]] inline Bitboard rook_attacks(Square from, Bitboard occupied) {
    const detail::Lines& lines = detail::lines[static_cast<std::size_t>(index(from))];
    return detail::reach(from, lines.rank, occupied) | detail::reach_on_file(from, occupied);
}
[[nodiscard]] inline Bitboard queen_attacks(Square from, Bitboard occupied) {
    return bishop_attacks(from, occupied) | rook_attacks(from, occupied);
}
[[nodiscard]] Bitboard attacks(Piece piece, Square from, Bitboard occupied);

/// Squares strictly between two squares of one rank, file or diagonal; empty otherwise.
[[nodiscard]] inline Bitboard between(Square a, Square b) {
    return detail::between_table[static_cast<std::size_t>(index(a))][static_cast<std::size_t>(index(b))];
}
/// The whole rank, file or diagonal through both, edge to edge; empty if they share none.
[[nodiscard]] inline Bitboard line_through(Square a, Square b) {
    return detail::line_table[static_cast<std::size_t>(index(a))][static_cast<std::size_t>(index(b))];
}

} // namespace board
