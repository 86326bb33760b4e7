#pragma once
// Men on the board: where a goal that is counted in them is reached.

#include "motif/settle.hpp"
#include "rules/view.hpp"

#include <optional>

namespace rules {

/// Balance in pawns (1-3-3-5-9, the solver's view) from which the goal is on the board; nothing for goals
/// that are not counted in men, or when it was there in the diagram.
[[nodiscard]] std::optional<int> wanted_balance(const PuzzleView& view);
/// The least balance the solver keeps here whatever the defender replies, captures and checks played out.
[[nodiscard]] int kept(motif::Settler& settler, const board::Position& position, board::Color solver);

} // namespace rules
