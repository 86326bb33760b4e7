#include "rules/rule.hpp"

#include "board/san.hpp"
#include "rules/play.hpp"

#include <algorithm>

namespace rules::line {

namespace {

using collection::GoalKind;
using collection::MoveStatus;
using solve::Answer;
using solve::MoveVerdict;
using solve::Standing;

Finding& add(const PuzzleView& view, Findings& findings, collection::Span span, std::string_view message,
             const std::string& move) {
    return findings.add(view, span, message, {{"move", move}, {"goal", collection::write_goal(view.goal())}})
        .about(move);
}

/// A move said to fail, as a first move: the key table knows.
void judge_first(const PuzzleView& view, board::Move move, collection::Span span, Findings& findings) {
    const MoveVerdict* const verdict = view.table().of(move);
    if (verdict == nullptr || move == *view.key()) {
        return;
    }
    const bool works = verdict->standing == Standing::as_good || verdict->standing == Standing::better;
    if ((!works && verdict->standing != Standing::also_wins) ||
        is_hollow(view, verdict->value, verdict->certainty)) {
        return;
    }
    add(view, findings, span,
        !works              ? "lesser"
        : is_read_off(view) ? "inferred"
                            : "works",
        board::write_san(*view.position(), move))
        .known(verdict->certainty)
        .shown(*view.position(), verdict->line)
        .mend(works ? "change the diagram so that it fails" : "");
}

/// Further on only a mate goal says for certain that a move marked as failing does not.
void judge_later(const PuzzleView& view, Findings& findings) {
    const auto& nodes = view.puzzle().solution.nodes;
    for (const NodeVerdict& verdict : view.walk()) {
        const bool marked = view.puzzle().solution.marked_as_failing(verdict.node);
        if (!verdict.by_solver || !marked || nodes[verdict.node].parent == 0 ||
            verdict.judgement.answer != Answer::yes || view.goal().kind != GoalKind::mate) {
            continue;
        }
        add(view, findings, nodes[verdict.node].span, "later", numbered(view, verdict.node))
            .known(verdict.judgement.certainty)
            .shown(*view.position(), line_through(view, verdict.node, verdict.judgement.line),
                   moves_up_to(view, nodes[verdict.node].parent));
    }
}

} // namespace

void try_works(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play() || (view.goal().kind == GoalKind::best && !view.goal_stated())) {
        return;
    }
    const MoveVerdict* const key = view.table().of(*view.key());
    if (key == nullptr || key->reaches_goal != Answer::yes) {
        return;
    }
    const auto& nodes = view.puzzle().solution.nodes;
    for (const std::size_t child : nodes[0].children) {
        if (nodes[child].status == MoveStatus::legal && child != key_node(view) &&
            view.puzzle().solution.marked_as_failing(child)) {
            judge_first(view, nodes[child].move, nodes[child].span, findings);
        }
    }
    for (const auto& stated : view.puzzle().avoided) {
        const auto san = board::read_san(stated.value);
        const auto move = san ? board::resolve(*view.position(), *san) : board::failure(board::SanFailure{});
        if (move.ok()) {
            judge_first(view, *move, stated.span, findings);
        }
    }
    judge_later(view, findings);
}

} // namespace rules::line
