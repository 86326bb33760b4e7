#pragma once
// A table and what its bytes mean.

#include "solve/endgame_layout.hpp"

#include <cstdint>
#include <functional>
#include <vector>

namespace solve::endgame {

/// Value of a position for the side to move: 0 drawn, else plies to mate + 1. An odd number of plies is a
/// win, an even number a loss.
using Code = std::uint8_t;
inline constexpr Code drawn = 0;
inline constexpr Code impossible = 255; ///< two men on a square, or the side not to move is in check

constexpr Code code_of(int plies) {
    return static_cast<Code>(plies + 1);
}
constexpr int plies_of(Code code) {
    return code - 1;
}
constexpr bool wins(Code code) {
    return code != drawn && code % 2 == 0;
}
constexpr bool loses(Code code) {
    return code % 2 == 1 && code != impossible;
}

struct Table {
    Layout layout;
    std::vector<Code> codes;
    [[nodiscard]] Code operator[](const Placement& placement) const { return codes[layout.at(placement)]; }
};

/// Gives the table of a slot (endgame_material.hpp); the reference stays good while the giver lives.
using Source = std::function<const Table&(std::size_t slot)>;

} // namespace solve::endgame
