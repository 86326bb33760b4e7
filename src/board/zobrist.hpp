#pragma once
// The random words a position's hash is made of: fixed for all time, so that stored hashes stay valid.

#include "board/move.hpp"
#include "board/setup.hpp"

#include <array>
#include <cstdint>

namespace board::zobrist {

struct Keys {
    std::array<std::array<std::uint64_t, 64>, 17> men; ///< [role + 8 * color][square]; 16, nobody: 0
    std::array<std::uint64_t, 16> castling;            ///< [bits of CastlingRights]
    std::array<std::uint64_t, 9> en_passant;           ///< [file]; 8, none: 0
    std::uint64_t black_to_move;
};

extern const Keys keys;

} // namespace board::zobrist
