#include "rules/gain.hpp"
#include "rules/play.hpp"
#include "rules/rule.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace rules::line {

namespace {

using collection::GoalKind;
using solve::Answer;

/// A line that works and ends before the game does.
struct End {
    const NodeVerdict& verdict;
    board::Position position;
};

/// Ends of the lines that claim to be complete. A key alone never does.
std::vector<End> ends_of(const PuzzleView& view) {
    const Lines lines = view.settings().lines;
    const auto& solution = view.puzzle().solution;
    const std::vector<std::size_t> main_line = solution.main_line();
    std::vector<End> ends;
    for (const NodeVerdict& verdict : view.walk()) {
        const bool claimed =
            lines == Lines::full || (lines == Lines::main && verdict.node == main_line.back());
        const bool leaf = solution.nodes[verdict.node].children.empty();
        if (!claimed || !leaf || solution.nodes[verdict.node].parent == 0 || verdict.inside_try ||
            verdict.judgement.answer != Answer::yes || ends.size() == most_told) {
            continue;
        }
        const board::Position position = position_after(view, verdict.node);
        if (position.has_legal_move()) {
            ends.push_back({verdict, position});
        }
    }
    return ends;
}

void add(const PuzzleView& view, Findings& findings, const End& end, std::string_view message,
         const solve::Judgement& shown, std::string what) {
    const std::string move = numbered(view, end.verdict.node);
    findings
        .add(view, view.puzzle().solution.nodes[end.verdict.node].span, message,
             {{"move", move}, {"goal", collection::write_goal(view.goal())}, {"what", std::move(what)}})
        .about(move)
        .known(shown.certainty)
        .shown(*view.position(), line_through(view, end.verdict.node, shown.line))
        .mend("print the rest of the line");
}

void judge_mate(const PuzzleView& view, const End& end, Findings& findings) {
    const solve::Judgement& mate = end.verdict.judgement;
    if (view.goal_stated() && mate.value.mate_in) {
        const int moves = *mate.value.mate_in;
        add(view, findings, end, "mate", mate, fmt::format("{} move{}", moves, moves == 1 ? "" : "s"));
    }
}

/// The play goes on until the men are won: cut there. False when it does not show it.
bool cut_at_gain(const PuzzleView& view, const End& end, int wanted, solve::Line& line) {
    motif::Settler settler;
    board::Position position = end.position;
    for (std::size_t ply = 0; ply < line.size(); ++ply) {
        position.make(line[ply]);
        if (position.turn() != view.solver_side() && kept(settler, position, view.solver_side()) >= wanted) {
            line.resize(ply + 1);
            return true;
        }
    }
    return false;
}

/// The one move that keeps the goal after the best reply; nothing when there are others, when it did not
/// settle, or when nobody has to look for it: a capture, a promotion, a way out of check.
std::optional<board::Move> only_move(const PuzzleView& view, const End& end, const solve::Line& line) {
    const bool replied = end.position.turn() != view.solver_side();
    const std::size_t next = replied ? 1 : 0;
    if (line.size() <= next) {
        return std::nullopt;
    }
    const board::Position before = replied ? end.position.after(line.front()) : end.position;
    const board::Move move = line[next];
    const auto moves = before.legal_moves();
    if (before.is_capture(move) || move.is_promotion() || before.in_check() || moves.size() < 2) {
        return std::nullopt;
    }
    const int played = static_cast<int>(view.puzzle().solution.depth(end.verdict.node) + 1) / 2;
    const bool others_fail = std::all_of(moves.begin(), moves.end(), [&](board::Move other) {
        return other == move ||
               view.solver().reaches(before.after(other), view.solver_side(), view.aim(played + 1)).answer ==
                   Answer::no;
    });
    return others_fail ? std::optional(move) : std::nullopt;
}

void judge_gain(const PuzzleView& view, const End& end, int wanted, Findings& findings) {
    motif::Settler settler;
    if (kept(settler, end.position, view.solver_side()) >= wanted) {
        return;
    }
    solve::Judgement play = view.solver().value(end.position, view.solver_side());
    if (play.answer != Answer::yes || is_hollow(view, play.value, play.certainty)) {
        return;
    }
    if (view.goal().kind == GoalKind::win_material) {
        if (!play.value.mate_in && cut_at_gain(view, end, wanted, play.line)) {
            add(view, findings, end, "gain", play, {});
        }
    } else if (const auto only = only_move(view, end, play.line)) {
        const bool replied = end.position.turn() != view.solver_side();
        const board::Position before = replied ? end.position.after(play.line.front()) : end.position;
        add(view, findings, end, view.goal_stated() ? "only" : "inferred", play, numbered(before, *only));
    }
}

} // namespace

void stops_early(const PuzzleView& view, Findings& findings) {
    const solve::MoveVerdict* const key = view.can_judge_play() ? view.table().of(*view.key()) : nullptr;
    if (key == nullptr || key->reaches_goal != Answer::yes || view.puzzle().key_only) {
        return;
    }
    const bool mate = view.goal().kind == GoalKind::mate;
    const std::optional<int> wanted = mate ? std::nullopt : wanted_balance(view);
    if (!mate && !wanted) {
        return;
    }
    for (const End& end : ends_of(view)) {
        if (mate) {
            judge_mate(view, end, findings);
        } else {
            judge_gain(view, end, *wanted, findings);
        }
    }
}

} // namespace rules::line
