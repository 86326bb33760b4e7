#pragma once
// Why a printed move cannot be played, in words a person can check on the board.

#include "board/position.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace rules {

struct Unplayable {
    std::string why; ///< "no knight can go to f5": no final stop
    std::vector<std::string>
        instead; ///< legal moves it may have been meant for, nearest first, at most three
};

/// `text` as written, which is not (or not exactly one) legal move here.
[[nodiscard]] Unplayable why_not(const board::Position& position, std::string_view text);
/// "perhaps Nf3 or Ng5 was meant"; empty when nothing is near.
[[nodiscard]] std::string suggestion(const Unplayable& move);

} // namespace rules
