#include "rules/gain.hpp"

namespace rules {

using collection::GoalKind;

std::optional<int> wanted_balance(const PuzzleView& view) {
    const collection::Goal goal = view.goal();
    const int now = solve::balance(*view.position(), view.solver_side());
    if (goal.kind == GoalKind::win_material) {
        return now + collection::least_gain(goal.unit);
    }
    const int decides = (view.settings().win_at + 99) / 100;
    return goal.kind == GoalKind::win && now < decides ? std::optional(decides) : std::nullopt;
}

int kept(motif::Settler& settler, const board::Position& position, board::Color solver) {
    return position.turn() == solver ? settler.settle(position, solver)
                                     : settler.worst_reply(position, solver);
}

} // namespace rules
