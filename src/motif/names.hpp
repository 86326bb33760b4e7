#pragma once
// How much a motif tells about a puzzle, whatever the board shows.

#include <cstdint>
#include <string_view>

namespace motif {

enum class Weight : std::uint8_t {
    aside,   ///< never what a puzzle is about: a battery, a pure mate, the kind of key
    helping, ///< the means more than the end: sacrifices, quiet moves, clearances, promotions
    telling, ///< how the win comes about: forks, pins, lured guards, mate pictures
};
[[nodiscard]] Weight weight_of(std::string_view motif);

} // namespace motif
