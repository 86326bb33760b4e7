#include "rules/rule.hpp"

#include "board/san.hpp"

#include <algorithm>

namespace rules::key {

namespace {

bool is_accepted(const PuzzleView& view, board::Move move) {
    const auto& accepted = view.accepted();
    return std::find(accepted.begin(), accepted.end(), move) != accepted.end();
}

/// The same pawn on the same square, another man: an unintended choice, but the same idea.
bool only_promotes_otherwise(board::Move a, board::Move b) {
    return a.is_promotion() && b.is_promotion() && a.from() == b.from() && a.to() == b.to();
}

} // namespace

void cook(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play() || view.goal().kind == collection::GoalKind::best) {
        return; // "best move": how close a rival comes is key/second-win's question
    }
    const solve::MoveVerdict* const key = view.table().of(*view.key());
    if (key == nullptr || key->reaches_goal != solve::Answer::yes) {
        return; // a key that does not work is key/refuted; nothing can be as good as it
    }
    for (const solve::MoveVerdict& rival : view.table().moves) {
        if (rival.standing != solve::Standing::as_good || is_accepted(view, rival.move)) {
            continue;
        }
        const std::string move = board::write_san(*view.position(), rival.move);
        const bool promotion = only_promotes_otherwise(key->move, rival.move);
        findings
            .add(view, view.key_span(), promotion ? "promotion" : "cook",
                 {{"move", move}, {"key", board::write_san(*view.position(), key->move)},
                  {"goal", collection::write_goal(view.goal())}})
            .about(move)
            .known(solve::weaker(rival.certainty, key->certainty))
            .shown(*view.position(), rival.line)
            .mend("accept it as a second key, or change the diagram so that it fails");
    }
}

} // namespace rules::key
