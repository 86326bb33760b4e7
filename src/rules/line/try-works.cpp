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
             const std::string& move, std::string refutation = {}) {
    return findings
        .add(view, span, message,
             {{"move", move},
              {"refutation", std::move(refutation)},
              {"goal", collection::write_goal(view.goal())}})
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

/// The answer printed first after a try claims to refute it.
void judge_refutation(const PuzzleView& view, std::size_t node, Findings& findings) {
    const auto& nodes = view.puzzle().solution.nodes;
    const MoveVerdict* const verdict = view.table().of(nodes[node].move);
    if (verdict == nullptr || verdict->standing != Standing::falls_short || nodes[node].children.empty()) {
        return;
    }
    const std::size_t answer = nodes[node].children.front();
    if (nodes[answer].status != MoveStatus::legal) {
        return;
    }
    const auto judged = view.solver().reaches(position_after(view, answer), view.solver_side(), view.aim(1));
    if (judged.answer == Answer::yes && !is_hollow(view, judged.value, judged.certainty)) {
        add(view, findings, nodes[answer].span, "refutation", numbered(view, node), numbered(view, answer))
            .known(judged.certainty)
            .shown(*view.position(), line_through(view, answer, judged.line), moves_up_to(view, answer))
            .mend(verdict->line.size() > 1
                      ? numbered(view.position()->after(verdict->move), verdict->line[1]) + " does refute it"
                      : "");
    }
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
            judge_refutation(view, child, findings);
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
