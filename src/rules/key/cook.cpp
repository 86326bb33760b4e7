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
    if (!view.goal_stated() && view.goal().kind != GoalKind::mate) {
        return "inferred";
    }
    return rival.standing == Standing::better ? "better" : "cook";
}

Finding& add(const PuzzleView& view, Findings& findings, std::string_view message, const MoveVerdict& key,
             const MoveVerdict& rival) {
    return findings
        .add(view, view.key_span(), message,
             {{"move", board::write_san(*view.position(), rival.move)},
              {"key", board::write_san(*view.position(), key.move)},
              {"value", value_text(rival)},
              {"key_value", value_text(key.value)},
              {"goal", collection::write_goal(view.goal())}})
        .known(solve::weaker(rival.certainty, key.certainty))
        .shown(*view.position(), rival.line);
}

std::vector<const MoveVerdict*> cooks_of(const PuzzleView& view) {
    std::vector<const MoveVerdict*> cooks;
    for (const MoveVerdict& rival : view.table().moves) {
        if (solves_as_well(view, rival) && !is_accepted(view, rival.move) &&
            !said_to_fail(view, rival.move)) {
            cooks.push_back(&rival);
        }
    }
    return cooks;
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
    const std::vector<const MoveVerdict*> cooks = cooks_of(view);
    if (cooks.size() > most) {
        std::vector<std::string> moves;
        for (const MoveVerdict* const rival : cooks) {
            moves.push_back(board::write_san(*view.position(), rival->move));
        }
        findings
            .add(view, view.key_span(), "many",
                 {{"moves", listed(moves, 3)},
                  {"key", board::write_san(*view.position(), key->move)},
                  {"goal", collection::write_goal(view.goal())}})
            .about("many")
            .known(solve::weaker(cooks.front()->certainty, key->certainty))
            .shown(*view.position(), cooks.front()->line)
            .mend("change the diagram so that one first move stands out");
        return;
    }
    for (const MoveVerdict* const rival : cooks) {
        const std::string_view message = message_of(view, *key, *rival);
        add(view, findings, message, *key, *rival)
            .about(board::write_san(*view.position(), rival->move))
            .mend(message == "printed" ? "accept it as a second key, or mark it as a try"
                                       : "accept it as a second key, or change the diagram so that it fails");
    }
}

} // namespace rules::key
