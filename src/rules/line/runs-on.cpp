#include "rules/gain.hpp"
#include "rules/play.hpp"
#include "rules/rule.hpp"

#include <algorithm>

namespace rules::line {

namespace {

using solve::Answer;

constexpr std::size_t rivals_asked = 3; // of those that keep the men: one of them is as good, or none is told
constexpr std::size_t too_many = 2;     // solver's moves behind the point

/// A move of the solver's in the main line.
struct Step {
    std::size_t node;
    board::Position before;
    int kept; ///< after it, in pawns
};

std::vector<Step> steps_of(const PuzzleView& view, motif::Settler& settler) {
    std::vector<Step> steps;
    const std::vector<std::size_t> line = view.puzzle().solution.main_line();
    board::Position position = *view.position();
    for (std::size_t ply = 0; ply < line.size(); ++ply) {
        const board::Position before = position;
        position.make(view.puzzle().solution.nodes[line[ply]].move);
        if (ply % 2 == 0) {
            steps.push_back({line[ply], before, kept(settler, position, view.solver_side())});
        }
    }
    return steps;
}

/// The first move after which the men are won for good and nothing more comes in.
std::size_t point_of(const std::vector<Step>& steps, int wanted) {
    std::size_t point = steps.size();
    const int enough = std::max(wanted, steps.back().kept);
    while (point > 0 && steps[point - 1].kept >= enough) {
        --point;
    }
    return point;
}

/// Another move that keeps the men and what the end of the line is worth.
std::optional<solve::Line> as_good(const PuzzleView& view, motif::Settler& settler, const Step& step, int men,
                                   const solve::Aim& aim) {
    std::size_t asked = 0;
    for (const board::Move move : step.before.legal_moves()) {
        const board::Position after = step.before.after(move);
        if (move == view.puzzle().solution.nodes[step.node].move ||
            kept(settler, after, view.solver_side()) < men) {
            continue;
        }
        const solve::Judgement judged = view.solver().reaches(after, view.solver_side(), aim);
        if (judged.answer == Answer::yes) {
            solve::Line line{move};
            line.insert(line.end(), judged.line.begin(), judged.line.end());
            return line;
        }
        if (++asked == rivals_asked) {
            break;
        }
    }
    return std::nullopt;
}

bool every_move_works(const PuzzleView& view, const std::vector<Step>& steps) {
    return std::all_of(steps.begin(), steps.end(), [&](const Step& step) {
        const NodeVerdict* const verdict = verdict_of(view, step.node);
        return verdict != nullptr && verdict->judgement.answer == Answer::yes;
    });
}

void judge(const PuzzleView& view, motif::Settler& settler, const std::vector<Step>& steps, std::size_t point,
           Findings& findings) {
    const std::size_t last = view.puzzle().solution.main_line().back();
    const solve::Judgement end = view.solver().value(position_after(view, last), view.solver_side());
    if (end.answer != Answer::yes || end.value.mate_in || is_hollow(view, end.value, end.certainty)) {
        return; // to mate is a point of its own
    }
    const int least = std::max(end.value.score - view.settings().near, view.aim(0).score);
    std::size_t from = steps.size();
    solve::Line other;
    while (from > point + 1) {
        auto rival = as_good(view, settler, steps[from - 1], steps[point].kept, solve::Aim::value(least));
        if (!rival) {
            break; // an only move: there is something left to find
        }
        other = std::move(*rival);
        --from;
    }
    const auto men_in = [&](const board::Position& at) { return solve::balance(at, view.solver_side()); };
    if (steps.size() - from < too_many || men_in(position_after(view, last)) > men_in(steps[from].before)) {
        return; // what hung is still being taken
    }
    const Step& step = steps[from];
    const std::string move = numbered(view, step.node);
    findings
        .add(view, view.puzzle().solution.nodes[step.node].span, "runs_on",
             {{"move", move},
              {"point", numbered(view, steps[from - 1].node)},
              {"other", numbered(step.before, other.front())}})
        .about(move)
        .known(end.certainty)
        .shown(*view.position(), line_through(view, view.puzzle().solution.nodes[step.node].parent, other))
        .mend("end the line with " + numbered(view, steps[from - 1].node));
}

} // namespace

void runs_on(const PuzzleView& view, Findings& findings) {
    const solve::MoveVerdict* const key = view.can_judge_play() ? view.table().of(*view.key()) : nullptr;
    const std::optional<int> wanted = key != nullptr ? wanted_balance(view) : std::nullopt;
    if (!wanted || key->reaches_goal != Answer::yes) {
        return;
    }
    motif::Settler settler;
    const std::vector<Step> steps = steps_of(view, settler);
    const std::size_t point = point_of(steps, *wanted);
    if (point + too_many < steps.size() && every_move_works(view, steps)) {
        judge(view, settler, steps, point, findings);
    }
}

} // namespace rules::line
