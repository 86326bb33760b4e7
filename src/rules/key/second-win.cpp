#include "rules/rule.hpp"

#include "board/san.hpp"
#include "rules/company.hpp"
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

Finding& add(const PuzzleView& view, Findings& findings, std::string_view message, const MoveVerdict& key,
             const MoveVerdict& first, const std::vector<const MoveVerdict*>& rivals) {
    std::vector<std::string> moves;
    moves.reserve(rivals.size());
    for (const MoveVerdict* const rival : rivals) {
        moves.push_back(board::write_san(*view.position(), rival->move));
    }
    return findings
        .add(view, view.key_span(), message,
             {{"moves", listed(moves, 3)},
              {"verb", moves.size() == 1 ? "wins" : "win"},
              {"comes", moves.size() == 1 ? "comes" : "come"},
              {"value", value_text(first)},
              {"key", board::write_san(*view.position(), key.move)},
              {"key_value", value_text(key)}})
        .about(moves.front())
        .shown(*view.position(), first.line);
}

/// Nothing was claimed of the key, it wins nothing clear, and other moves come as close.
void tell_level_moves(const PuzzleView& view, const MoveVerdict& key, Findings& findings) {
    if (view.table().key_stands_out() || is_hollow(view, key.value, key.certainty) || overlooked(view)) {
        return; // nothing to tell, or key/open and key/refuted tell it
    }
    const Company& company = view.company();
    if (company.better) {
        add(view, findings, "better", key, *company.better, {&*company.better})
            .known(solve::Certainty::searched)
            .mend("state the goal, or print that move");
    }
    if (company.better || !company.shown) {
        return;
    }
    std::vector<const MoveVerdict*> rivals{&*company.shown};
    for (const board::Move move : company.level) {
        if (move != company.shown->move) {
            rivals.push_back(view.table().of(move));
        }
    }
    add(view, findings, "unclaimed", key, *company.shown, rivals)
        .known(solve::Certainty::searched)
        .mend("state the goal, or accept what is as good");
}

} // namespace

void second_win(const PuzzleView& view, Findings& findings) {
    const MoveVerdict* const key = view.can_judge_play() ? view.table().of(*view.key()) : nullptr;
    if (key == nullptr) {
        return;
    }
    if (view.goal().kind == GoalKind::best && !view.goal_stated()) {
        tell_level_moves(view, *key, findings);
        return;
    }
    if (key->reaches_goal != solve::Answer::yes) {
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
        add(view, findings, message_of(view), *key, *first, rivals)
            .known(solve::weaker(first->certainty, key->certainty))
            .mend("accept it, or change the diagram so that it fails");
    }
}

} // namespace rules::key
