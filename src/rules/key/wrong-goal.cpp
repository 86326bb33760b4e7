#include "rules/rule.hpp"

#include "board/san.hpp"
#include "rules/play.hpp"

#include <algorithm>

namespace rules::key {

namespace {

using collection::GoalKind;
using solve::MoveVerdict;
using solve::Standing;

collection::Span goal_span(const PuzzleView& view) {
    return view.puzzle().goal->span;
}

Finding& add(const PuzzleView& view, Findings& findings, std::string_view message, const MoveVerdict& shown,
             Arguments arguments) {
    return findings.add(view, goal_span(view), message, arguments)
        .about(collection::write_goal(view.goal()))
        .shown(*view.position(), shown.line);
}

void judge_length(const PuzzleView& view, const MoveVerdict& key, Findings& findings) {
    const int stated = view.goal().moves;
    const int length = key.value.mate_in.value_or(0);
    if (length > 0 && length < stated && view.table().shortest_mate == length) {
        add(view, findings, "sooner", key,
            {{"key", board::write_san(*view.position(), key.move)},
             {"length", std::to_string(length)},
             {"stated", std::to_string(stated)}})
            .known(solve::Certainty::proved)
            .mend("state mate in " + std::to_string(length) + ", or change the diagram");
    }
}

bool decides(const PuzzleView& view, const solve::Value& value) {
    return value.mate_in ? *value.mate_in > 0 : value.score >= view.settings().win_at;
}

/// A win where a draw is asked for: editors differ, so it is no more than a warning and says so.
void judge_draw(const PuzzleView& view, const MoveVerdict& key, Findings& findings) {
    const auto& moves = view.table().moves;
    const bool key_wins = key.reaches_goal == solve::Answer::yes && decides(view, key.value);
    const auto better = std::find_if(moves.begin(), moves.end(), [](const MoveVerdict& rival) {
        return rival.standing == Standing::better;
    });
    if (!key_wins && better == moves.end()) {
        return;
    }
    const MoveVerdict& winner = key_wins ? key : *better;
    if (is_hollow(view, winner.value, winner.certainty)) {
        return;
    }
    add(view, findings, "contested", winner,
        {{"move", board::write_san(*view.position(), winner.move)}, {"value", value_text(winner)}})
        .known(winner.certainty)
        .mend("state a win, or change the diagram");
}

/// In pawns, the most the words can mean: the man itself, for nothing.
int most_gain(collection::GoalUnit unit) {
    switch (unit) {
    case collection::GoalUnit::queen:
        return 9;
    case collection::GoalUnit::rook:
        return 5;
    case collection::GoalUnit::piece:
        return 3;
    case collection::GoalUnit::exchange:
        return 2;
    case collection::GoalUnit::pawn:
        break;
    }
    return 1;
}

/// Far more than the goal names: by more than a piece, or mate.
void judge_material(const PuzzleView& view, const MoveVerdict& key, Findings& findings) {
    constexpr int far_more = 350;
    const bool mates = key.value.mate_in.value_or(0) > 0;
    const bool settled = key.reaches_goal == solve::Answer::yes && !key.value.mate_in;
    const int named = solve::balance(*view.position(), view.solver_side()) + most_gain(view.goal().unit);
    if (!is_hollow(view, key.value, key.certainty) &&
        (mates || (settled && key.value.score >= 100 * named + far_more))) {
        add(view, findings, "modest", key,
            {{"key", board::write_san(*view.position(), key.move)},
             {"value", value_text(key)},
             {"goal", collection::write_goal(view.goal())}})
            .known(key.certainty)
            .mend("name what is really won");
    }
}

/// A length without any move printed (a distance to mate alone) is a claim as well.
void judge_keyless(const PuzzleView& view, Findings& findings) {
    const int stated = view.goal().moves;
    const solve::Mates mates = view.solver().mates(*view.position(), stated);
    if (!mates.complete || mates.length == stated) {
        return;
    }
    findings
        .add(view, goal_span(view), mates.length ? "shorter" : "none",
             {{"length", std::to_string(mates.length.value_or(0))}, {"stated", std::to_string(stated)}})
        .about(collection::write_goal(view.goal()))
        .known(solve::Certainty::proved)
        .shown(*view.position(), mates.line);
}

} // namespace

void wrong_goal(const PuzzleView& view, Findings& findings) {
    if (!view.goal_stated() || !view.position() || view.side_in_doubt()) {
        return;
    }
    const GoalKind goal = view.goal().kind;
    if (view.puzzle().solution.empty()) {
        if (goal == GoalKind::mate && view.goal().moves > 0 && view.position()->has_legal_move()) {
            judge_keyless(view, findings);
        }
        return;
    }
    const MoveVerdict* const key = view.can_judge_play() ? view.table().of(*view.key()) : nullptr;
    if (key == nullptr) {
        return;
    }
    switch (goal) {
    case GoalKind::mate:
        return judge_length(view, *key, findings);
    case GoalKind::draw:
        return judge_draw(view, *key, findings);
    case GoalKind::win_material:
        return judge_material(view, *key, findings);
    default:
        return;
    }
}

} // namespace rules::key
