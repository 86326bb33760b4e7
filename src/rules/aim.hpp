#pragma once
// A goal as a question to the solver.

#include "collection/goal.hpp"
#include "solve/solver.hpp"

#include <optional>

namespace rules {

/// What a goal asks for once the solver has made `moves_played` moves from the diagram on; nothing for goals
/// that are held against the best move instead.
[[nodiscard]] std::optional<solve::Aim> aim_of(const collection::Goal& goal, const board::Position& diagram,
                                               int moves_played, int win_at);

/// As good as `best`, or within `near` (hundredths of a pawn) of it.
[[nodiscard]] solve::Aim aim_near(const solve::Value& best, int near);

/// Not losing is enough.
[[nodiscard]] bool draw_suffices(const collection::Goal& goal);

} // namespace rules
