#include "rules/rule.hpp"

#include "rules/play.hpp"

#include <algorithm>
#include <set>

namespace rules::line {

namespace {

using collection::GoalKind;
using solve::Answer;

/// What is wrong after a printed move, and the play that shows it.
struct Fault {
    std::string_view message;
    solve::Judgement judgement;
};

/// The mate comes, but later than stated.
std::optional<solve::Judgement> later_mate(const PuzzleView& view, const board::Position& position,
                                           int left) {
    constexpr int further = 2;
    const int from = std::max(left, 0) + 1;
    for (int moves = from; moves < from + further; ++moves) {
        auto judged = view.solver().reaches(position, view.solver_side(), solve::Aim::mate(moves));
        if (judged.answer != Answer::no) {
            return judged.answer == Answer::yes ? std::optional(std::move(judged)) : std::nullopt;
        }
    }
    return std::nullopt;
}

/// Nothing when a second look, at the value itself, does not bear the first one out.
std::optional<Fault> fault_of(const PuzzleView& view, const NodeVerdict& verdict,
                              const board::Position& after) {
    const GoalKind goal = view.goal().kind;
    const int played = static_cast<int>((view.puzzle().solution.depth(verdict.node) + 1) / 2);
    if (goal == GoalKind::mate) {
        const auto later = later_mate(view, after, view.goal().moves - played);
        return later ? Fault{"slower", *later} : Fault{"fails", verdict.judgement};
    }
    if (verdict.judgement.certainty == solve::Certainty::proved) {
        return Fault{"fails", verdict.judgement};
    }
    const solve::Judgement worth = view.solver().value(after, view.solver_side());
    const bool mates = worth.value.mate_in.value_or(0) > 0;
    if (worth.answer == Answer::open || mates ||
        (!worth.value.mate_in && worth.value.score >= view.aim(played).score)) {
        return std::nullopt;
    }
    const bool asks_for_value = goal == GoalKind::win || goal == GoalKind::win_material;
    const bool something = !worth.value.mate_in && worth.value.score > 0;
    return Fault{asks_for_value && something ? "short" : "fails", worth};
}

void add(const PuzzleView& view, Findings& findings, const NodeVerdict& verdict) {
    const board::Position after = position_after(view, verdict.node);
    const std::optional<Fault> fault = fault_of(view, verdict, after);
    if (!fault) {
        return;
    }
    const collection::TreeNode& node = view.puzzle().solution.nodes[verdict.node];
    const solve::Judgement& judged = fault->judgement;
    const std::string move = numbered(view, verdict.node);
    const bool alternative = node.parent == 0;
    findings
        .add(view, node.span, alternative ? "alternative" : fault->message,
             {{"move", move},
              {"goal", collection::write_goal(view.goal())},
              {"value", value_text(judged.value)},
              {"answer", judged.line.empty() ? "the defender" : numbered(after, judged.line.front())}})
        .about(move)
        .known(judged.certainty)
        .shown(*view.position(), line_through(view, verdict.node, judged.line))
        .mend(alternative ? "mark it as a try, or take it out" : "correct the line");
}

/// The refuting answer is not printed: line/missing-defence tells it.
bool told_as_missing(const PuzzleView& view, const NodeVerdict& verdict) {
    const auto main_line = view.puzzle().solution.main_line();
    const bool in_main_line = std::find(main_line.begin(), main_line.end(), verdict.node) != main_line.end();
    const auto& children = view.puzzle().solution.nodes[verdict.node].children;
    return verdict.by_solver && in_main_line && !children.empty() && !verdict.judgement.line.empty() &&
           !printed(view, verdict.node, verdict.judgement.line.front());
}

} // namespace

void fails(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play() || (view.goal().kind == GoalKind::best && !view.goal_stated())) {
        return;
    }
    const solve::MoveVerdict* const key = view.table().of(*view.key());
    const bool key_works = key != nullptr && key->reaches_goal == Answer::yes;
    const auto& nodes = view.puzzle().solution.nodes;
    std::set<std::size_t> failed;                    // nodes at or behind a fault that is told already
    for (const NodeVerdict& verdict : view.walk()) { // parents come before their children
        std::size_t above = verdict.node;
        while (above != 0 && failed.count(above) == 0) {
            above = nodes[above].parent;
        }
        const bool behind_key = stands_behind(view, verdict.node, key_node(view));
        if (above != 0 || verdict.inside_try || verdict.node == key_node(view) ||
            (behind_key && !key_works) || verdict.judgement.answer != Answer::no) {
            continue;
        }
        failed.insert(verdict.node);
        if (!told_as_missing(view, verdict)) {
            add(view, findings, verdict);
        }
    }
}

} // namespace rules::line
