#include "rules/rule.hpp"

#include "board/san.hpp"
#include "rules/play.hpp"

namespace rules::key {

namespace {

using collection::GoalKind;
using solve::MoveVerdict;
using solve::Standing;

/// The same pawn on the same square, another man: an unintended choice, but the same idea.
bool only_promotes_otherwise(board::Move a, board::Move b) {
    return a.is_promotion() && b.is_promotion() && a.from() == b.from() && a.to() == b.to();
}

/// A rival that does more than the key is a cook as well where the goal is to win; elsewhere other rules tell
/// it.
bool solves_as_well(const PuzzleView& view, const MoveVerdict& rival) {
    const GoalKind goal = view.goal().kind;
    const bool more_counts =
        goal == GoalKind::win || goal == GoalKind::win_material || goal == GoalKind::hold;
    return rival.standing == Standing::as_good || (more_counts && rival.standing == Standing::better);
}

std::string_view message_of(const PuzzleView& view, const MoveVerdict& key, const MoveVerdict& rival) {
    if (printed(view, 0, rival.move)) {
        return "printed";
    }
    if (only_promotes_otherwise(key.move, rival.move)) {
        return "promotion";
    }
    if (is_read_off(view)) {
        return "inferred";
    }
    return rival.standing == Standing::better ? "better" : "cook";
}

/// Score a rival must have to be what the table calls it.
int least_of(const PuzzleView& view, const MoveVerdict& key, const MoveVerdict& rival) {
    const int near = view.settings().near;
    const GoalKind goal = view.goal().kind;
    if (goal == GoalKind::draw || goal == GoalKind::hold) {
        return view.aim(0).score;
    }
    return key.value.score + (rival.standing == Standing::better ? near : -near);
}

std::vector<const MoveVerdict*> rivals_of(const PuzzleView& view) {
    std::vector<const MoveVerdict*> rivals;
    for (const MoveVerdict& rival : view.table().moves) {
        if (solves_as_well(view, rival) && !is_accepted(view, rival.move) &&
            !said_to_fail(view, rival.move) && !is_hollow(view, rival.value, rival.certainty) &&
            !is_idle(view, rival.value, rival.certainty)) {
            rivals.push_back(&rival);
        }
    }
    return rivals;
}

void add(const PuzzleView& view, Findings& findings, const MoveVerdict& key, const MoveVerdict& cook) {
    const std::string move = board::write_san(*view.position(), cook.move);
    const std::string_view message = message_of(view, key, cook);
    findings
        .add(view, view.key_span(), message,
             {{"move", move},
              {"moves", move},
              {"verb", "wins"},
              {"key", board::write_san(*view.position(), key.move)},
              {"value", value_text(cook)},
              {"key_value", value_text(key)},
              {"goal", collection::write_goal(view.goal())}})
        .about(move)
        .known(solve::weaker(cook.certainty, key.certainty))
        .shown(*view.position(), cook.line)
        .mend(message == "printed" ? "accept it as a second key, or mark it as a try"
                                   : "accept it as a second key, or change the diagram so that it fails");
}

void add_many(const PuzzleView& view, Findings& findings, const MoveVerdict& key, const MoveVerdict& first,
              const std::vector<const MoveVerdict*>& rivals) {
    std::vector<std::string> moves;
    moves.reserve(rivals.size());
    for (const MoveVerdict* const rival : rivals) {
        moves.push_back(board::write_san(*view.position(), rival->move));
    }
    findings
        .add(view, view.key_span(), is_read_off(view) ? "inferred" : "many",
             {{"moves", listed(moves, 3)},
              {"verb", "win"},
              {"value", value_text(first)},
              {"key_value", value_text(key)},
              {"key", board::write_san(*view.position(), key.move)},
              {"goal", collection::write_goal(view.goal())}})
        .about("many")
        .known(solve::weaker(first.certainty, key.certainty))
        .shown(*view.position(), first.line)
        .mend("change the diagram so that one first move stands out");
}

} // namespace

void cook(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play() || view.goal().kind == GoalKind::best) {
        return; // "best move": how close a rival comes is key/second-win's question
    }
    const MoveVerdict* const key = view.table().of(*view.key());
    if (key == nullptr || key->reaches_goal != solve::Answer::yes) {
        return; // a key that does not work is key/refuted; nothing can be as good as it
    }
    const bool slower = view.goal().kind == GoalKind::mate && view.table().shortest_mate &&
                        *view.table().shortest_mate < key->value.mate_in.value_or(view.goal().moves);
    if (slower) {
        return; // key/short-mate: where a shorter mate exists, many moves mate in the stated number
    }
    constexpr std::size_t most = 4; // more than that say one thing: the diagram leaves the choice open
    std::vector<const MoveVerdict*> rivals = rivals_of(view);
    while (!rivals.empty()) {
        const auto cook = confirmed(view, *rivals.front(), least_of(view, *key, *rivals.front()));
        if (cook && rivals.size() > most) {
            return add_many(view, findings, *key, *cook, rivals);
        }
        if (cook) {
            add(view, findings, *key, *cook);
        }
        rivals.erase(rivals.begin());
    }
}

} // namespace rules::key
