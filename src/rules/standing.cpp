#include "rules/standing.hpp"

#include "rules/faults.hpp"
#include "rules/play.hpp"

namespace rules {

using solve::Answer;
using solve::Judgement;

std::optional<Judgement> won(const PuzzleView& view, const board::Position& position, board::Color side) {
    const int clear = view.settings().win_at + view.settings().near;
    if (view.solver().reaches(position, side, solve::Aim::value(clear)).answer != Answer::yes) {
        return std::nullopt;
    }
    Judgement worth = view.solver().value(position, side);
    const bool wins = worth.value.score >= clear; // mates count by size here: of 0 moves they have no sign
    return wins && worth.answer == Answer::yes && tells(position, worth) ? std::optional(std::move(worth))
                                                                         : std::nullopt;
}

std::optional<Judgement> drawn(const PuzzleView& view, const board::Position& position, board::Color side) {
    const int table_men = solve::budget_of(view.settings().effort).table_men;
    if (position.occupied().count() > table_men && position.has_legal_move() && !position.is_dead()) {
        return std::nullopt;
    }
    Judgement worth = view.solver().value(position, side);
    return worth.certainty == solve::Certainty::proved && worth.value.score == 0
               ? std::optional(std::move(worth))
               : std::nullopt;
}

std::vector<bool> told_of(const PuzzleView& view) {
    const auto& nodes = view.puzzle().solution.nodes;
    std::vector<bool> told(nodes.size(), false);
    const solve::MoveVerdict* const verdict = view.table().of(*view.key());
    const bool claims_goal = view.goal().kind != collection::GoalKind::best || view.goal_stated();
    if (verdict != nullptr && claims_goal && verdict->reaches_goal == Answer::no) {
        told[key_node(view)] = true;
    }
    for (const LineFault& fault : view.line_faults()) {
        told[fault.node] = true;
    }
    for (std::size_t node = 1; node < nodes.size(); ++node) { // parents come before their children
        told[node] = told[node] || told[nodes[node].parent];
    }
    return told;
}

} // namespace rules
