#include "rules/faults.hpp"

#include "collection/move_word.hpp"
#include "rules/play.hpp"

#include <algorithm>

namespace rules {

namespace {

using collection::GoalKind;
using solve::Answer;

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

/// A second look, at the value itself; nothing when it contradicts the first one.
std::optional<LineFault> fault_by_value(const PuzzleView& view, const NodeVerdict& verdict,
                                        const board::Position& after, int least) {
    if (!view.goal_stated()) {
        least -= view.settings().near; // what was only inferred is not held to the last half pawn
    }
    const solve::Judgement worth = view.solver().value(after, view.solver_side());
    if (worth.value.mate_in ? *worth.value.mate_in > 0 : worth.value.score >= least) {
        return std::nullopt;
    }
    const GoalKind goal = view.goal().kind;
    const bool asks_for_value = goal == GoalKind::win || goal == GoalKind::win_material;
    const bool something = asks_for_value && !worth.value.mate_in && worth.value.score > 0;
    const auto kind = something ? LineFault::Kind::falls_short : LineFault::Kind::fails;
    if (is_hollow(view, worth.value, worth.certainty) ||
        ends_in_chase(after, view.solver_side(), worth.line)) {
        return std::nullopt;
    }
    const bool unsettled = worth.answer == Answer::open; // then the first look is the better one
    return LineFault{verdict.node, kind, unsettled ? verdict.judgement : worth};
}

std::optional<LineFault> fault_of(const PuzzleView& view, const NodeVerdict& verdict) {
    const board::Position after = position_after(view, verdict.node);
    const GoalKind goal = view.goal().kind;
    const int played = static_cast<int>((view.puzzle().solution.depth(verdict.node) + 1) / 2);
    if (goal == GoalKind::mate && !view.goal_stated()) {
        return fault_by_value(view, verdict, after, view.settings().win_at); // nobody promised a length
    }
    if (goal == GoalKind::mate) {
        if (auto later = later_mate(view, after, view.goal().moves - played)) {
            return LineFault{verdict.node, LineFault::Kind::slower, std::move(*later)};
        }
        return LineFault{verdict.node, LineFault::Kind::fails, verdict.judgement};
    }
    if (verdict.judgement.certainty == solve::Certainty::proved) {
        return LineFault{verdict.node, LineFault::Kind::fails, verdict.judgement};
    }
    return fault_by_value(view, verdict, after, view.aim(played).score);
}

/// The play that shows a fault keeps to the printed moves up to one of the solver's that was judged otherwise
/// by itself.
bool printed_line_disagrees(const PuzzleView& view, const std::vector<const NodeVerdict*>& verdicts,
                            std::size_t node, const solve::Line& line) {
    const auto& nodes = view.puzzle().solution.nodes;
    bool by_solver = false; // the first move of the line answers
    for (const board::Move move : line) {
        const auto& children = nodes[node].children;
        const auto child = std::find_if(children.begin(), children.end(), [&](std::size_t other) {
            return nodes[other].status == collection::MoveStatus::legal && nodes[other].move == move;
        });
        if (child == children.end() && (!by_solver || children.empty())) {
            return false; // a defence that is not printed, or the printed line is over
        }
        node = child == children.end() ? children.front() : *child;
        if (by_solver && verdicts[node] != nullptr && verdicts[node]->judgement.answer != Answer::no) {
            return true;
        }
        if (child == children.end()) {
            return false;
        }
        by_solver = !by_solver;
    }
    return false;
}

/// The walk stays with what the puzzle claims: a goal read off a key that decides nothing claims nothing
/// further on.
bool can_judge_line(const PuzzleView& view) {
    return view.can_judge_play() && (view.goal().kind != GoalKind::best || view.goal_stated());
}

} // namespace

std::vector<LineFault> find_line_faults(const PuzzleView& view) {
    if (!can_judge_line(view)) {
        return {};
    }
    const solve::MoveVerdict* const key = view.table().of(*view.key());
    const auto& nodes = view.puzzle().solution.nodes;
    std::vector<const NodeVerdict*> verdicts(nodes.size(), nullptr);
    for (const NodeVerdict& verdict : view.walk()) {
        verdicts[verdict.node] = &verdict;
    }
    std::vector<LineFault> faults;
    std::vector<bool> silent(nodes.size(), false); // at or behind a fault, or a key that does not work
    for (std::size_t node = 1; node < nodes.size() && faults.size() < most_told; ++node) {
        const std::size_t parent = nodes[node].parent; // stands before its children
        const NodeVerdict* const verdict = verdicts[node];
        silent[node] = silent[parent];
        if (node == key_node(view)) {
            silent[node] = key == nullptr || key->reaches_goal != Answer::yes;
        } else if (verdict != nullptr && !silent[node] && verdict->judgement.answer == Answer::no) {
            // A defender's move that ends a line after a move that works: two searches at odds settle
            // nothing.
            const bool at_odds = !verdict->by_solver && verdicts[parent] != nullptr &&
                                 verdicts[parent]->judgement.answer == Answer::yes;
            silent[node] = true;
            const bool conceded =
                verdict->inside_try ||
                (verdict->by_solver && view.puzzle().solution.shown_to_fail(node, view.solver_side()));
            auto fault = at_odds || conceded ? std::nullopt : fault_of(view, *verdict);
            const bool searched = fault && fault->judgement.certainty != solve::Certainty::proved;
            if (searched && printed_line_disagrees(view, verdicts, node, fault->judgement.line)) {
                fault.reset(); // two searches at odds settle nothing
            }
            if (fault) {
                faults.push_back(std::move(*fault));
            }
        }
    }
    return faults;
}

namespace {

bool says_no_difference(const collection::TreeNode& node) {
    return std::any_of(node.comments.begin(), node.comments.end(), [](const collection::Comment& comment) {
        const auto read = collection::read_phrases(comment.text);
        return !read.doubtful && read.phrases.size() == 1 &&
               read.phrases.front().kind == collection::PhraseKind::no_difference;
    });
}

} // namespace

std::vector<board::Move> covered_replies(const PuzzleView& view, std::size_t node) {
    const auto& entry = view.puzzle().solution.nodes[node];
    const board::Position before = position_after(view, entry.parent);
    const std::optional<board::Role> man = collection::man_meant(entry.text); // none: all of them
    std::vector<board::Move> replies;
    for (const board::Move move : before.legal_moves()) {
        if ((!man || before.at(move.from())->role == *man) && !printed(view, entry.parent, move)) {
            replies.push_back(move);
        }
    }
    return replies;
}

bool covers_replies(const PuzzleView& view, std::size_t node) {
    const auto& nodes = view.puzzle().solution.nodes;
    return std::any_of(nodes[node].children.begin(), nodes[node].children.end(), [&](std::size_t child) {
        return nodes[child].status == collection::MoveStatus::any || says_no_difference(nodes[child]);
    });
}

bool is_covered(const PuzzleView& view, const LineFault& fault) {
    const bool by_solver = view.puzzle().solution.depth(fault.node) % 2 == 1;
    return by_solver && !fault.judgement.line.empty() &&
           !printed(view, fault.node, fault.judgement.line.front()) && covers_replies(view, fault.node);
}

bool is_unforeseen(const PuzzleView& view, const LineFault& fault) {
    const auto main_line = view.puzzle().solution.main_line();
    const auto found = std::find(main_line.begin(), main_line.end(), fault.node);
    const bool by_solver = found != main_line.end() && (found - main_line.begin()) % 2 == 0;
    return by_solver && found + 1 != main_line.end() && !fault.judgement.line.empty() &&
           !printed(view, fault.node, fault.judgement.line.front()) && !is_covered(view, fault);
}

} // namespace rules
