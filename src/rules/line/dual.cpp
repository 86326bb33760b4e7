#include "rules/rule.hpp"

#include "board/san.hpp"
#include "rules/play.hpp"

#include <algorithm>

namespace rules::line {

namespace {

using board::Move;

bool contains(const std::vector<Move>& moves, Move move) {
    return std::find(moves.begin(), moves.end(), move) != moves.end();
}

/// The continuations are promotions of one pawn on one square: the choice of man is all that differs.
bool only_promotions(const std::vector<Move>& moves) {
    return std::all_of(moves.begin(), moves.end(), [&](Move move) {
        return move.is_promotion() && move.from() == moves.front().from() && move.to() == moves.front().to();
    });
}

/// The reply parries none of the threats: by custom they are counted as the key's threats and not as duals.
bool parries_nothing(const PuzzleView& view, const board::Position& after_solver, int left,
                     const std::vector<Move>& continuations) {
    const std::optional<board::Position> passed = after_solver.passed();
    const solve::Mates threats = passed ? view.solver().mates(*passed, left) : solve::Mates{};
    return !threats.keys.empty() && std::all_of(threats.keys.begin(), threats.keys.end(),
                                                [&](Move threat) { return contains(continuations, threat); });
}

void judge(const PuzzleView& view, std::size_t node, int left, const std::vector<Move>& continuations,
           Findings& findings) {
    const auto& nodes = view.puzzle().solution.nodes;
    const std::size_t reply = nodes[node].parent;
    const board::Position before = position_after(view, reply);
    std::vector<Move> others;
    for (const Move move : continuations) {
        if (move != nodes[node].move && !printed(view, reply, move)) {
            others.push_back(move); // what the author prints he knows
        }
    }
    if (others.empty() ||
        parries_nothing(view, position_after(view, nodes[reply].parent), left, continuations)) {
        return;
    }
    std::vector<std::string> texts;
    texts.reserve(others.size());
    for (const Move move : others) {
        texts.push_back(board::write_san(before, move));
    }
    const std::string_view message = only_promotions(continuations) ? "promotion"
                                     : left == 1                    ? "at_mate"
                                     : view.goal_stated()           ? "dual"
                                                                    : "inferred";
    const auto judged =
        view.solver().reaches(before.after(others.front()), view.solver_side(), solve::Aim::mate(left - 1));
    solve::Line tail{others.front()};
    tail.insert(tail.end(), judged.line.begin(), judged.line.end());
    const std::string move = numbered(view, node);
    findings
        .add(view, nodes[node].span, message,
             {{"move", move}, {"others", listed(texts, 3)}, {"verb", others.size() == 1 ? "does" : "do"}})
        .about(move)
        .known(solve::Certainty::proved)
        .shown(*view.position(), line_through(view, reply, tail), moves_up_to(view, reply));
}

} // namespace

void dual(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play() || view.goal().kind != collection::GoalKind::mate) {
        return;
    }
    const solve::MoveVerdict* const key = view.table().of(*view.key());
    if (key == nullptr || key->value.mate_in != view.goal().moves) {
        return; // refuted, or shorter than stated: told by key/*
    }
    const std::vector<std::size_t> line = view.puzzle().solution.main_line();
    for (std::size_t ply = 2; ply < line.size(); ply += 2) {
        const int left = view.goal().moves - static_cast<int>(ply / 2);
        const board::Position before = position_after(view, line[ply - 1]);
        const solve::Mates mates = view.solver().mates(before, left);
        // Shorter: the defender has played badly, which allows what it allows. Missing: told by line/fails.
        if (left < 1 || mates.length != left || !mates.complete ||
            !contains(mates.keys, view.puzzle().solution.nodes[line[ply]].move)) {
            return;
        }
        if (mates.keys.size() > 1) {
            judge(view, line[ply], left, mates.keys, findings);
        }
    }
}

} // namespace rules::line
