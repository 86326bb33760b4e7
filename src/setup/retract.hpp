#pragma once
// Taking moves back: every move that can have led to a diagram, judged one position earlier.

#include "board/result.hpp"
#include "board/setup.hpp"

#include <optional>
#include <vector>

namespace setup {

enum class RetractionKind : std::uint8_t { plain, unpromotion, un_en_passant, uncastling };

/// A move of the side that is not to move, seen backwards: the man on `to` came from `from`.
struct Retraction {
    RetractionKind kind;
    board::Square from;
    board::Square to;
    std::optional<board::Role> uncaptured; ///< what reappears on `to`, or the pawn taken en passant
};

/// Every move that fits the pattern of its man and the empty squares; the earlier position is not looked at.
/// A valid en-passant square leaves only its double step. Men that hold a castling right stay where they are.
[[nodiscard]] std::vector<Retraction> candidates(const board::Setup& diagram);

/// What at once speaks against the position before a move.
enum class Obstacle : std::uint8_t {
    check,      ///< the side that was not to move stood in check
    three,      ///< the side to move was checked by three men
    men,        ///< more men or promotions than there can be
    king_route, ///< castling out of, through or into check
};

/// The position before that move. Its counters are meaningless.
[[nodiscard]] board::Result<board::Setup, Obstacle> before(const board::Setup& diagram,
                                                           const Retraction& retraction);

enum class LastMove : std::uint8_t {
    any,
    zeroing,           ///< a capture or a pawn move
    quiet,             ///< neither
    not_a_double_step, ///< anything but a pawn's double step
};

/// Nodes that what promotions cost in pawns' captures may take for an earlier position.
inline constexpr int share_out_nodes = 300;

/// Some last move of that kind after which nothing speaks against the earlier position, nor (depth - 1 times
/// more) against one before it; depth 1 looks at the move alone. `open` when `budget` positions were not
/// enough to tell.
enum class Past : std::uint8_t { found, none, open };
[[nodiscard]] Past look_back(const board::Setup& diagram, LastMove kind, int depth, int& budget);

/// The square passed by the one double step that can have been the last move of a diagram that can be played,
/// when no other move can.
[[nodiscard]] std::optional<board::Square> proved_double_step(const board::Setup& diagram);

} // namespace setup
