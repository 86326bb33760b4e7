#pragma once
// What decoy, deflection and overloaded-unit share: a defender's man answers the solver's move by leaving its
// square.

#include "motif/study.hpp"

namespace motif {

/// The solver's move `ply`, the defender's answer by the man `lured`, and the solver's next move.
struct Luring {
    std::size_t ply = 0;
    board::Square from; ///< where the lured man stood
    board::Square to;   ///< where it was drawn to
    bool offer = false; ///< it took the man just moved, at a loss to the solver
    bool check = false; ///< it answered a check
};

/// Nothing when the line has no reply and next move after `ply`, or the reply is a castling.
[[nodiscard]] std::optional<Luring> luring_at(const Study& study, std::size_t ply);
/// The position before the next move with the lured man back where it stood; nothing when that cannot be
/// played.
[[nodiscard]] std::optional<board::Position> lured_back(const Study& study, const Luring& luring);
/// The next move brings something (a mate, a capture, a promotion, a check) and the solver's move was sound.
[[nodiscard]] bool pays(const Study& study, const Luring& luring);

} // namespace motif
