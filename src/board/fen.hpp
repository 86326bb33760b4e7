#pragma once
// Forsyth-Edwards notation (PGN standard 1994, section 16.1): read tolerantly, written strictly.

#include "board/setup.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace board {

enum class FenFaultKind : std::uint8_t {
    shape,      ///< ranks, files or letters of the placement are wrong
    side,       ///< neither w nor b, or missing
    castling,   ///< no castling letters, or letters that fit no array
    en_passant, ///< not a square, or not on the third or sixth rank
    clock,      ///< not a number in range
    missing,    ///< fewer fields than asked for
    extra,      ///< text after the last field
    style,      ///< readable but not canonical: digits that touch, order of letters, blanks
};

struct FenFault {
    FenFaultKind kind;
    std::size_t begin; ///< byte offsets into the text
    std::size_t end;
    std::string what; ///< a sentence without final stop
    friend bool operator==(const FenFault&, const FenFault&) = default;
};

struct FenReading {
    Setup setup;                  ///< what could be read; fields that could not keep their defaults
    bool usable = false;          ///< placement and side to move were read
    std::size_t side_begin = 0;   ///< where the side letter stands (0 when missing)
    std::vector<FenFault> faults; ///< all of them, in order of place; fewer than 64 whatever the text
};

/// Which array the castling letters speak of.
enum class Start : std::uint8_t {
    orthodox,
    shuffled,   ///< Chess960: K and Q mean the outermost rook (X-FEN), letters of files name one
    by_letters, ///< shuffled when letters of files say so: what write_fen wrote
};

/// Reads four to six fields (EPD has four). Counters that are missing default to 0 and 1 without a fault.
[[nodiscard]] FenReading read_fen(std::string_view text, Start start = Start::orthodox);
/// Six canonical fields; the en-passant square is written as it stands in the setup. Rights of an array whose
/// king and rooks do not start on e, h and a are written as letters of files.
[[nodiscard]] std::string write_fen(const Setup& setup);

} // namespace board
