#include "rules/rule.hpp"

#include "board/san.hpp"
#include "rules/play.hpp"

namespace rules::key {

namespace {

using collection::GoalKind;
using solve::MoveVerdict;
using solve::Standing;

/// What a rival must be to be told of: a clearly lesser win, or for "best move" one that is nearly as good.
Standing told(const PuzzleView& view) {
    return view.goal().kind == GoalKind::best ? Standing::as_good : Standing::also_wins;
}

std::string_view message_of(const PuzzleView& view) {
    if (view.goal().kind == GoalKind::best) {
        return "close";
    }
    if (is_read_off(view)) {
        return "inferred";
    }
    return view.settings().uniqueness == Uniqueness::strict ? "strict" : "also";
}

int least_of(const PuzzleView& view, const MoveVerdict& key) {
    return view.goal().kind == GoalKind::best ? key.value.score - view.settings().near : view.aim(0).score;
}

void add(const PuzzleView& view, Findings& findings, const MoveVerdict& key, const MoveVerdict& first,
         const std::vector<const MoveVerdict*>& rivals) {
    std::vector<std::string> moves;
    moves.reserve(rivals.size());
    for (const MoveVerdict* const rival : rivals) {
        moves.push_back(board::write_san(*view.position(), rival->move));
    }
    findings
        .add(view, view.key_span(), message_of(view),
             {{"moves", listed(moves, 3)},
              {"verb", moves.size() == 1 ? "wins" : "win"},
              {"comes", moves.size() == 1 ? "comes" : "come"},
              {"value", value_text(first)},
              {"key", board::write_san(*view.position(), key.move)},
              {"key_value", value_text(key)}})
        .about(moves.front())
        .known(solve::weaker(first.certainty, key.certainty))
        .shown(*view.position(), first.line)
        .mend("accept it, or change the diagram so that it fails");
}

} // namespace

void second_win(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play() || (view.goal().kind == GoalKind::best && !view.goal_stated())) {
        return;
    }
    const MoveVerdict* const key = view.table().of(*view.key());
    if (key == nullptr || key->reaches_goal != solve::Answer::yes) {
        return;
    }
    std::vector<const MoveVerdict*> rivals;
    for (const MoveVerdict& rival : view.table().moves) {
        if (rival.standing == told(view) && !is_accepted(view, rival.move) &&
            !said_to_fail(view, rival.move) && !is_hollow(view, rival.value, rival.certainty) &&
            !is_idle(view, rival.value, rival.certainty)) {
            rivals.push_back(&rival);
        }
    }
    std::optional<MoveVerdict> first;
    while (!rivals.empty() && !first) {
        first = confirmed(view, *rivals.front(), least_of(view, *key));
        if (!first) {
            rivals.erase(rivals.begin());
        }
    }
    if (first) {
        add(view, findings, *key, *first, rivals);
    }
}

} // namespace rules::key
