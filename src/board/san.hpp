#pragma once
// Standard algebraic notation (PGN standard 1994, section 8.2.3): read tolerantly, written strictly.

#include "board/position.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace board {

/// The text of a move, not yet held against a position.
struct San {
    Role role = Role::pawn;
    std::optional<int> from_file; ///< 0..7
    std::optional<int> from_rank;
    std::optional<Square> to; ///< empty for castling
    std::optional<CastlingSide> castling;
    std::optional<Role> promotion;
    bool capture = false;
    bool check = false;   ///< + written
    bool mate = false;    ///< # written
    bool null = false;    ///< "--" or "Z0": a pass, no legal move
    std::string suffix;   ///< ! ? !! ?? !? ?! as written, or empty
    bool foreign = false; ///< figurine, zeros for castling, S for the knight, "e.p.", "++", missing =, long
                          ///< form: not export SAN
};

/// Nothing when the text is no move at all.
[[nodiscard]] std::optional<San> read_san(std::string_view text);

enum class SanFault : std::uint8_t { illegal, ambiguous };

struct SanFailure {
    SanFault fault;
    std::vector<Move> candidates; ///< ambiguous: the moves it could be; illegal: moves of that role to that
                                  ///< square barred only by check, else empty
};

/// The one legal move that fits. Check and mate signs are not held against it.
[[nodiscard]] Result<Move, SanFailure> resolve(const Position& position, const San& san);
/// "e2e4", "e7e8q", also "e2-e4" and "e7e8=Q"; nothing unless legal here.
[[nodiscard]] std::optional<Move> read_coordinate(const Position& position, std::string_view text);
/// Export SAN with the least disambiguation and the right check or mate sign.
[[nodiscard]] std::string write_san(const Position& position, Move move);
/// "1.Qd8+ Kxd8 2.Bg5+" (or "1...Qd8+ 2.Kxd8"), numbered from the position's move number.
[[nodiscard]] std::string write_line(const Position& position, std::span<const Move> line);

} // namespace board
