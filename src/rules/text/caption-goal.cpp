#include "rules/play.hpp"
#include "rules/rule.hpp"

#include "collection/builder.hpp"

namespace rules::text {

namespace {

using collection::Goal;
using collection::GoalKind;
using collection::GoalUnit;

/// Both speak of men, and the caption's word may stand for the field's: a rook is a piece, and all is
/// material.
bool names_the_same_men(GoalUnit caption, GoalUnit field) {
    const bool dear = field == GoalUnit::queen || field == GoalUnit::rook;
    return caption == field || caption == GoalUnit::pawn || (caption == GoalUnit::piece && dear);
}

/// A caption may say less than the field, and other words for the same; it must not say something else.
bool agree(const Goal& caption, const Goal& field) {
    if (caption == field || caption.kind == GoalKind::best || field.kind == GoalKind::best) {
        return true;
    }
    if (caption.kind == field.kind) {
        return caption.kind == GoalKind::win_material && names_the_same_men(caption.unit, field.unit);
    }
    const auto is = [&](GoalKind kind) { return caption.kind == kind || field.kind == kind; };
    if (is(GoalKind::not_checked)) {
        return false;
    }
    if (is(GoalKind::hold)) {
        return true; // the only move: to whatever end
    }
    return !is(GoalKind::draw) && is(GoalKind::win); // a mate wins, and so do men
}

std::string told(const Goal& goal) {
    return goal.kind == GoalKind::not_checked ? "another kind of task" : collection::write_goal(goal);
}

/// The field asks for less than a mate, so no other rule looks for it.
void judge_mate(const PuzzleView& view, const Goal& goal, collection::Span span, Findings& findings) {
    const int longest = solve::budget_of(view.settings().effort).mate_moves;
    if (goal.moves > longest || !view.can_judge_play() || !may_ask_more(view)) {
        return;
    }
    const solve::Mates mates = view.solver().mates(*view.position(), goal.moves);
    if (!mates.complete || mates.length == goal.moves) {
        return;
    }
    findings
        .add(view, span, mates.length ? "sooner" : "no_mate",
             {{"stated", std::to_string(goal.moves)}, {"length", std::to_string(mates.length.value_or(0))}})
        .about(collection::write_goal(goal))
        .known(solve::Certainty::proved)
        .shown(*view.position(), mates.line);
}

} // namespace

void caption_goal(const PuzzleView& view, Findings& findings) {
    const collection::Puzzle& puzzle = view.puzzle();
    if (!puzzle.goal || view.side_in_doubt()) {
        return;
    }
    const Goal& field = puzzle.goal->value;
    for (const auto& demand : puzzle.demands) {
        const std::optional<Goal> caption = collection::goal_of(demand.value, view.solver_side());
        if (!caption || demand.span == puzzle.goal->span) {
            continue;
        }
        if (!agree(*caption, field)) {
            findings
                .add(view, demand.span, puzzle.goal_by_caption ? "captions" : "disagreement",
                     {{"caption", told(*caption)}, {"goal", told(field)}})
                .about(told(*caption))
                .mend("let both say what the diagram gives");
        } else if (caption->kind == GoalKind::mate && field.kind != GoalKind::mate) {
            judge_mate(view, *caption, demand.span, findings);
        }
    }
}

} // namespace rules::text
