#pragma once
// Small questions about one diagram, and diagrams with one thing changed for drop-tests.

#include "board/position.hpp"

#include <optional>
#include <string>

namespace motif {

/// Squares the man on `from` attacks; lines also run through the men in `lifted`. Empty for an empty square.
[[nodiscard]] board::Bitboard attacks_from(const board::Position& position, board::Square from,
                                           board::Bitboard lifted = board::Bitboard());
/// The first man beyond `front` on the line that comes from `from`.
[[nodiscard]] std::optional<board::Square> behind(const board::Position& position, board::Square from,
                                                  board::Square front);
/// The man that pins `pinned` to its own king.
[[nodiscard]] std::optional<board::Square> pinner_of(const board::Position& position, board::Square pinned);
/// Bishops, rooks and queens of `color`.
[[nodiscard]] board::Bitboard line_men(const board::Position& position, board::Color color);
/// Where the man taken by a capture stands (en passant: not on the square of arrival).
[[nodiscard]] board::Square square_taken(board::Move move);

/// The same diagram with one man off the board; nothing when that cannot be played.
[[nodiscard]] std::optional<board::Position> without(const board::Position& position, board::Square square);
/// The same diagram with the man on `from` put on `to` (whatever stood there is gone).
[[nodiscard]] std::optional<board::Position> relocated(const board::Position& position, board::Square from,
                                                       board::Square to);

/// In pawns: what the other side wins by capturing on `square`, whoever is to move; 0 when safe, for kings
/// too.
[[nodiscard]] int loss_on(const board::Position& position, board::Square square);
/// Could the man on `square` leave it for one where it is safe or sold for as much, pins and turn aside?
[[nodiscard]] bool could_escape(const board::Position& position, board::Square square);
/// No enemy pawn stands ahead of the pawn of `color` on `pawn`, on its file or the two beside it.
[[nodiscard]] bool is_passed(const board::Position& position, board::Square pawn, board::Color color);
/// The same men on the same squares, whoever is to move.
[[nodiscard]] bool same_placement(const board::Position& a, const board::Position& b);
/// Pawns' worth of the man on `square`; 0 for a king or an empty square.
[[nodiscard]] int worth_of(const board::Position& position, board::Square square);

/// "knight on e7"
[[nodiscard]] std::string man(const board::Position& position, board::Square square);

} // namespace motif
