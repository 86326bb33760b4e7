#include "rules/faults.hpp"
#include "rules/play.hpp"
#include "rules/rule.hpp"
#include "rules/weak_reply.hpp"

#include <algorithm>

namespace rules::line {

namespace {

using collection::GoalKind;
using solve::Answer;

constexpr std::size_t most_at_one_move = 3; // named at one move

struct Node {
    std::size_t index;
    std::size_t printed_reply; ///< the main line's
    int played;                ///< solver's moves up to here
    board::Position position;  ///< the defender is to move
};

/// Solver's moves of the main line that the line goes on after.
std::vector<Node> answered_nodes(const PuzzleView& view) {
    std::vector<Node> result;
    const std::vector<std::size_t> line = view.puzzle().solution.main_line();
    board::Position position = *view.position();
    for (std::size_t ply = 0; ply + 1 < line.size(); ++ply) {
        position.make(view.puzzle().solution.nodes[line[ply]].move);
        if (ply % 2 == 0) {
            result.push_back({line[ply], line[ply + 1], static_cast<int>(ply / 2) + 1, position});
        }
    }
    return result;
}

void judge_refutations(const PuzzleView& view, Findings& findings) {
    for (const LineFault& fault : view.line_faults()) {
        if (!is_unforeseen(view, fault)) {
            continue; // line/fails
        }
        const solve::Line& line = fault.judgement.line;
        const std::string reply = numbered(position_after(view, fault.node), line.front());
        const std::string move = numbered(view, fault.node);
        findings
            .add(view, view.puzzle().solution.nodes[fault.node].span,
                 view.goal_stated() ? "refutes" : "inferred",
                 {{"reply", reply},
                  {"move", move},
                  {"value", value_text(fault.judgement.value)},
                  {"goal", collection::write_goal(view.goal())}})
            .about(reply)
            .known(fault.judgement.certainty)
            .shown(*view.position(), line_through(view, fault.node, line), moves_up_to(view, fault.node))
            .mend("correct " + move + " or the diagram");
    }
}

/// The answers that the author gives at this point, in whatever line.
std::vector<board::Move> printed_answers(const PuzzleView& view, std::size_t node) {
    const auto& nodes = view.puzzle().solution.nodes;
    std::vector<board::Move> answers;
    for (const std::size_t reply : nodes[node].children) {
        for (const std::size_t answer : nodes[reply].children) {
            if (nodes[answer].status == collection::MoveStatus::legal) {
                answers.push_back(nodes[answer].move);
            }
        }
    }
    return answers;
}

/// None of the printed answers meets the reply, though something does.
bool needs_another_answer(const PuzzleView& view, const Node& node, const board::Position& after) {
    for (const board::Move answer : printed_answers(view, node.index)) {
        if (!after.is_legal(answer)) {
            continue;
        }
        const auto judged =
            view.solver().reaches(after.after(answer), view.solver_side(), view.aim(node.played + 1));
        if (judged.answer != Answer::no) {
            return false;
        }
    }
    return view.solver().reaches(after, view.solver_side(), view.aim(node.played)).answer == Answer::yes;
}

/// Mates: it resists as long as the main line; else it costs the solver no more than `near` compared with it.
bool as_good_as_printed(const PuzzleView& view, const Node& node, const board::Position& after) {
    const board::Position main = node.position.after(view.puzzle().solution.nodes[node.printed_reply].move);
    solve::Solver& solver = view.solver();
    if (view.goal().kind == GoalKind::mate) {
        const int left = view.goal().moves - node.played;
        const solve::Mates length = solver.mates(main, left);
        return length.complete && length.length &&
               solver.reaches(after, view.solver_side(), solve::Aim::mate(*length.length - 1)).answer ==
                   Answer::no;
    }
    const solve::Judgement there = solver.value(main, view.solver_side());
    const solve::Judgement here = solver.value(after, view.solver_side());
    return there.answer == Answer::yes && here.answer == Answer::yes && !here.value.mate_in &&
           (there.value.mate_in || here.value.score <= there.value.score);
}

/// Replies that need a sideline and have none, with the play after each.
std::vector<solve::Judgement> unprinted(const PuzzleView& view, const Node& node,
                                        const std::optional<WeakReply>& weak) {
    std::vector<solve::Judgement> found;
    for (const board::Move reply : node.position.legal_moves()) {
        const board::Position after = node.position.after(reply);
        // Clearly better than the printed one: that is the worse fault, and line/weak-main-line tells it.
        const bool told = weak && weak->node == node.index && weak->better.front() == reply;
        if (found.size() == most_at_one_move || told || printed(view, node.index, reply) ||
            !after.has_legal_move() || !needs_another_answer(view, node, after) ||
            !as_good_as_printed(view, node, after)) {
            continue;
        }
        auto judged = view.solver().reaches(after, view.solver_side(), view.aim(node.played));
        const bool retaken = !judged.line.empty() && judged.line.front().to() == reply.to();
        if (view.goal().kind == GoalKind::mate || !retaken) { // to take what was put there needs no sideline
            judged.line.insert(judged.line.begin(), reply);
            found.push_back(std::move(judged));
        }
    }
    return found;
}

void judge_replies(const PuzzleView& view, const Node& node, const std::optional<WeakReply>& weak,
                   Findings& findings) {
    const std::vector<solve::Judgement> found = unprinted(view, node, weak);
    if (found.empty()) {
        return;
    }
    std::vector<std::string> replies;
    replies.reserve(found.size());
    for (const solve::Judgement& judged : found) {
        replies.push_back(numbered(node.position, judged.line.front()));
    }
    findings
        .add(view, view.puzzle().solution.nodes[node.printed_reply].span, "unprinted",
             {{"replies", listed(replies, most_at_one_move)},
              {"verbs", replies.size() == 1 ? "resists" : "resist"},
              {"need", replies.size() == 1 ? "needs" : "need"},
              {"main", numbered(view, node.printed_reply)}})
        .about(replies.front())
        .known(found.front().certainty)
        .shown(*view.position(), line_through(view, node.index, found.front().line),
               moves_up_to(view, node.index))
        .mend("print a sideline");
}

} // namespace

void missing_defence(const PuzzleView& view, Findings& findings) {
    judge_refutations(view, findings);
    const solve::MoveVerdict* const key = view.can_judge_play() ? view.table().of(*view.key()) : nullptr;
    const bool asked =
        view.settings().lines == Lines::full ||
        (view.settings().lines == Lines::main && view.settings().effort == solve::Effort::press);
    if (!asked || view.goal().kind == GoalKind::best || is_read_off(view) || key == nullptr ||
        key->reaches_goal != Answer::yes) {
        return;
    }
    const std::vector<LineFault>& faults = view.line_faults();
    const std::optional<WeakReply>& weak = view.weak_reply();
    for (const Node& node : answered_nodes(view)) {
        const bool broken = std::any_of(faults.begin(), faults.end(),
                                        [&](const LineFault& fault) { return fault.node == node.index; });
        if (broken) {
            return; // behind it nothing is worth a sideline
        }
        if (!covers_replies(view, node.index)) {
            judge_replies(view, node, weak, findings);
        }
    }
}

} // namespace rules::line
