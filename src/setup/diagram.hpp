#pragma once
// Questions about a diagram, and words for its men, that several rules of this room share.

#include "board/setup.hpp"

#include <array>
#include <span>
#include <string>
#include <vector>

namespace setup {

inline constexpr std::array both_colors{board::Color::white, board::Color::black};
inline constexpr std::array both_sides{board::CastlingSide::king, board::CastlingSide::queen};

/// Men of `by` that attack the square.
[[nodiscard]] board::Bitboard attackers(const board::Setup& diagram, board::Square square, board::Color by);
/// Men that attack the king of `color`, which must be on the board.
[[nodiscard]] board::Bitboard checkers(const board::Setup& diagram, board::Color color);
/// Placement of the initial array, whatever the side fields say.
[[nodiscard]] bool is_initial_placement(const board::Setup& diagram);
[[nodiscard]] bool has_any_right(const board::Setup& diagram, board::Color color);
/// The same diagram with the other side to move.
[[nodiscard]] board::Setup flipped(const board::Setup& diagram);
/// Square on the first rank as `color` counts it.
[[nodiscard]] constexpr board::Square home_square(board::Color color, int file) {
    return board::square_at(file, color == board::Color::white ? 0 : 7);
}
/// Where the officers of this kind start in the orthodox array.
[[nodiscard]] board::Bitboard homes(board::Color color, board::Role role);
/// King and rook that have not moved, going by the letters.
[[nodiscard]] board::Bitboard held_by_rights(const board::Setup& diagram, board::Color color);

/// "White", "Black"
[[nodiscard]] std::string_view side_name(board::Color color);
/// "a", "a and b", "a, b and c"
[[nodiscard]] std::string join(std::span<const std::string> parts);
/// "a1, b2 and c3"
[[nodiscard]] std::string squares_text(board::Bitboard squares);
/// "bishop on a1"
[[nodiscard]] std::string man_text(const board::Setup& diagram, board::Square square);
/// "bishop on a1 and pawns on b2 and c3", the king first
[[nodiscard]] std::string men_text(const board::Setup& diagram, board::Bitboard men);
/// "pawn on a2", "pawns on a2 and c2"
[[nodiscard]] std::string pawns_text(board::Bitboard pawns);
/// "1 capture", "2 captures"
[[nodiscard]] std::string count_text(int count, std::string_view noun);
[[nodiscard]] std::vector<board::Square> to_squares(board::Bitboard squares);

} // namespace setup
