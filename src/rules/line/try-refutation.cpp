#include "rules/play.hpp"
#include "rules/rule.hpp"
#include "rules/sentences.hpp"

#include <algorithm>

namespace rules::line {

namespace {

using board::Move;
using collection::MoveStatus;
using solve::Answer;
using solve::Judgement;
using solve::MoveVerdict;
using solve::Standing;

/// A try of the first move with the answer that is printed first.
struct Refutation {
    std::size_t attempt;
    std::size_t answer;
    const MoveVerdict& verdict; ///< of the try
};

std::vector<Refutation> refutations_of(const PuzzleView& view) {
    const auto& nodes = view.puzzle().solution.nodes;
    std::vector<Refutation> found;
    for (const std::size_t child : nodes[0].children) {
        if (nodes[child].status != MoveStatus::legal || child == key_node(view) ||
            !view.puzzle().solution.marked_as_failing(child) || nodes[child].children.empty()) {
            continue;
        }
        const std::size_t answer = nodes[child].children.front();
        const MoveVerdict* const verdict = view.table().of(nodes[child].move);
        if (verdict != nullptr && verdict->standing == Standing::falls_short &&
            nodes[answer].status == MoveStatus::legal) {
            found.push_back({child, answer, *verdict});
        }
    }
    return found;
}

/// False when the printed answer does not refute: then nothing else is said of it.
bool judge_answer(const PuzzleView& view, const Refutation& refutation, Findings& findings) {
    const std::size_t answer = refutation.answer;
    const auto judged = view.solver().reaches(position_after(view, answer), view.solver_side(), view.aim(1));
    if (judged.answer != Answer::yes || is_hollow(view, judged.value, judged.certainty)) {
        return true;
    }
    const MoveVerdict& verdict = refutation.verdict;
    const std::string attempt = numbered(view, refutation.attempt);
    findings
        .add(view, view.puzzle().solution.nodes[answer].span, "fails",
             {{"move", attempt}, {"refutation", numbered(view, answer)}})
        .about(attempt)
        .known(judged.certainty)
        .shown(*view.position(), line_through(view, answer, judged.line), moves_up_to(view, answer))
        .mend(verdict.line.size() > 1
                  ? numbered(view.position()->after(verdict.move), verdict.line[1]) + " does refute it"
                  : "");
    return false;
}

/// Another answer that refutes; mates only, where it can be proved.
std::optional<Judgement> another(const PuzzleView& view, const Refutation& refutation) {
    const auto& nodes = view.puzzle().solution.nodes;
    const board::Position after = position_after(view, refutation.attempt);
    for (const Move reply : after.legal_moves()) {
        if (reply == nodes[refutation.answer].move || !may_ask_more(view)) {
            continue;
        }
        auto judged = view.solver().reaches(after.after(reply), view.solver_side(), view.aim(1));
        if (judged.answer == Answer::no && judged.certainty == solve::Certainty::proved) {
            judged.line.insert(judged.line.begin(), reply);
            return judged;
        }
    }
    return std::nullopt;
}

void judge_single(const PuzzleView& view, const Refutation& refutation, Findings& findings) {
    const auto other = another(view, refutation);
    if (!other) {
        return;
    }
    const std::string attempt = numbered(view, refutation.attempt);
    findings
        .add(view, view.puzzle().solution.nodes[refutation.answer].span, "single",
             {{"move", attempt},
              {"refutation", numbered(view, refutation.answer)},
              {"other", numbered(position_after(view, refutation.attempt), other->line.front())}})
        .about(attempt)
        .known(other->certainty)
        .shown(*view.position(), line_through(view, refutation.attempt, other->line),
               moves_up_to(view, refutation.attempt));
}

} // namespace

void try_refutation(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play() || (view.goal().kind == collection::GoalKind::best && !view.goal_stated())) {
        return;
    }
    const MoveVerdict* const key = view.table().of(*view.key());
    if (key == nullptr || key->reaches_goal != Answer::yes) {
        return;
    }
    const std::vector<bool> called = called_only(view);
    for (const Refutation& refutation : refutations_of(view)) {
        if (judge_answer(view, refutation, findings) && called[refutation.answer]) {
            judge_single(view, refutation, findings);
        }
    }
}

} // namespace rules::line
