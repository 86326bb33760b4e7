#include "rules/aim.hpp"

namespace rules {

using collection::GoalKind;

namespace {

/// Hundredths of a pawn a settled score may stay below a material goal: small terms, not men.
constexpr int slack = 50;
constexpr int mate = 10'000; ///< above every settled score

} // namespace

std::optional<solve::Aim> aim_of(const collection::Goal& goal, const board::Position& diagram,
                                 int moves_played, int win_at) {
    switch (goal.kind) {
    case GoalKind::mate:
        return solve::Aim::mate(goal.moves - moves_played);
    case GoalKind::win:
        return solve::Aim::value(win_at);
    case GoalKind::win_material: {
        const int pawns = solve::balance(diagram, diagram.turn()) + collection::least_gain(goal.unit);
        return solve::Aim::value(100 * pawns - slack);
    }
    case GoalKind::draw:
    case GoalKind::hold:
        return solve::Aim::hold();
    case GoalKind::best:
    case GoalKind::not_checked:
        break;
    }
    return std::nullopt;
}

solve::Aim aim_near(const solve::Value& best, int near) {
    const int score = !best.mate_in ? best.score : *best.mate_in > 0 ? mate : -mate;
    return solve::Aim::value(score - near);
}

bool draw_suffices(const collection::Goal& goal) {
    return goal.kind == GoalKind::draw || goal.kind == GoalKind::hold;
}

} // namespace rules
