#include "rules/play.hpp"
#include "rules/rule.hpp"
#include "rules/sentences.hpp"

#include "board/san.hpp"
#include "rules/aim.hpp"

#include <algorithm>
#include <cstdlib>

namespace rules::line {

namespace {

using board::Color;
using board::Move;
using collection::GoalKind;
using collection::MoveStatus;
using solve::Aim;
using solve::Answer;
using solve::Judgement;
using solve::MoveVerdict;
using solve::Standing;

/// A move that does as well as the one that is called the only one.
struct Other {
    Move move;
    Judgement judgement; ///< of the position after it
    bool lost = false;   ///< both lose
};

/// What answers a try of a mate is line/try-refutation's.
bool answers_a_try(const PuzzleView& view, std::size_t node) {
    const collection::MoveTree& tree = view.puzzle().solution;
    const std::size_t parent = tree.nodes[node].parent;
    return view.goal().kind == GoalKind::mate && parent != 0 && tree.nodes[parent].parent == 0 &&
           tree.marked_as_failing(parent);
}

class OnlyMoveClaim {
  public:
    OnlyMoveClaim(const PuzzleView& view, std::size_t node)
        : m_view(view), m_node(node), m_move(entry().move), m_before(position_after(view, entry().parent)),
          m_by_solver(m_before.turn() == view.solver_side()) {}

    [[nodiscard]] std::optional<Other> refuted() const {
        const bool mates = m_view.goal().kind == GoalKind::mate;
        const int left = m_view.goal().moves - static_cast<int>(m_view.puzzle().solution.depth(m_node) / 2);
        if (mates && m_by_solver) {
            return other_mate(left);
        }
        if (mates) {
            const solve::Mates length = m_view.solver().mates(m_before.after(m_move), std::max(left, 0));
            if (length.length) {
                return length.complete ? holds_out(*length.length) : std::nullopt;
            }
        }
        return by_value();
    }

  private:
    [[nodiscard]] const collection::TreeNode& entry() const { return m_view.puzzle().solution.nodes[m_node]; }

    /// What other rules tell of: unprinted continuations of a main line that mates (line/dual).
    [[nodiscard]] bool told_elsewhere(Move move) const {
        const auto line = m_view.puzzle().solution.main_line();
        return std::find(line.begin(), line.end(), m_node) != line.end() &&
               !printed(m_view, entry().parent, move);
    }

    [[nodiscard]] std::optional<Other> other_mate(int left) const {
        const solve::Mates mates = m_view.solver().mates(m_before, left);
        if (std::find(mates.keys.begin(), mates.keys.end(), m_move) == mates.keys.end()) {
            return std::nullopt; // slower, or line/fails
        }
        for (const Move move : mates.keys) {
            if (move != m_move && !told_elsewhere(move)) {
                return Other{move, m_view.solver().reaches(m_before.after(move), m_view.solver_side(),
                                                           Aim::mate(*mates.length - 1))};
            }
        }
        return std::nullopt;
    }

    /// Another reply is mated no sooner than in `length`.
    [[nodiscard]] std::optional<Other> holds_out(int length) const {
        for (const Move move : m_before.legal_moves()) {
            if (move == m_move) {
                continue;
            }
            const board::Position after = m_before.after(move);
            Judgement sooner = m_view.solver().reaches(after, !m_before.turn(), Aim::mate(length - 1));
            if (sooner.answer == Answer::no) {
                return Other{move, m_view.solver().reaches(after, !m_before.turn(), Aim::mate(length)), true};
            }
        }
        return std::nullopt;
    }

    /// What another move must reach to be as good: the value of this one, less a half of what counts as near.
    [[nodiscard]] std::optional<Other> by_value() const {
        const Color mover = m_before.turn();
        const Judgement own = m_view.solver().value(m_before.after(m_move), mover);
        if (own.answer != Answer::yes || !tells(m_before.after(m_move), own)) {
            return std::nullopt;
        }
        if (own.value.mate_in && *own.value.mate_in < 0) {
            return holds_out(-*own.value.mate_in);
        }
        const bool mates = own.value.mate_in.has_value();
        const int least = own.value.score - m_view.settings().near / 2;
        const Aim aim = mates ? Aim::mate(*own.value.mate_in) : Aim::value(least);
        for (const Move move : m_before.legal_moves()) {
            if (move == m_move || !may_ask_more(m_view)) {
                continue;
            }
            const board::Position after = m_before.after(move);
            if (m_view.solver().reaches(after, mover, aim).answer != Answer::yes) {
                continue;
            }
            Judgement worth =
                mates ? m_view.solver().reaches(after, mover, aim) : m_view.solver().value(after, mover);
            const bool as_good =
                worth.answer == Answer::yes && (mates || worth.value.mate_in.value_or(0) > 0 ||
                                                (!worth.value.mate_in && worth.value.score >= least));
            if (as_good && tells(after, worth)) {
                return Other{move, std::move(worth), !mates && own.value.score <= -m_view.settings().win_at};
            }
        }
        return std::nullopt;
    }

    const PuzzleView& m_view;
    std::size_t m_node;
    Move m_move;
    board::Position m_before;
    bool m_by_solver;
};

void add(const PuzzleView& view, std::size_t node, std::string_view message, const Other& other,
         Findings& findings) {
    const std::size_t parent = view.puzzle().solution.nodes[node].parent;
    const board::Position before = position_after(view, parent);
    solve::Line tail{other.move};
    tail.insert(tail.end(), other.judgement.line.begin(), other.judgement.line.end());
    const std::string move = numbered(view, node);
    findings
        .add(view, view.puzzle().solution.nodes[node].span, message,
             {{"move", move}, {"other", board::write_san(before, other.move)}})
        .about(move)
        .known(other.judgement.certainty)
        .shown(*view.position(), line_through(view, parent, tail))
        .mend(boxed(view.puzzle().solution.nodes[node]) ? "take the sign off" : "take the words out");
}

/// The key: rivals that nobody accepts are told by key/cook and key/second-win, where a goal is claimed.
void judge_key(const PuzzleView& view, Findings& findings) {
    const MoveVerdict* const key = view.table().of(*view.key());
    const bool idle_goal = view.goal().kind == GoalKind::best && !view.goal_stated();
    if (key == nullptr || key->certainty == solve::Certainty::open ||
        (!idle_goal && key->reaches_goal != Answer::yes) || (idle_goal && overlooked(view))) {
        return;
    }
    for (const MoveVerdict& rival : view.table().moves) {
        const bool as_good = rival.standing == Standing::as_good || rival.standing == Standing::better;
        if (!as_good || (!idle_goal && !is_accepted(view, rival.move)) ||
            is_hollow(view, rival.value, rival.certainty)) {
            continue;
        }
        const bool draws = draw_suffices(view.goal());
        const int least = draws ? view.aim(0).score : key->value.score - view.settings().near / 2;
        if (const auto sure = confirmed(view, rival, least)) {
            Judgement judgement;
            judgement.certainty = solve::weaker(sure->certainty, key->certainty);
            judgement.line.assign(sure->line.begin() + (sure->line.empty() ? 0 : 1), sure->line.end());
            const bool hold = view.goal().kind == GoalKind::hold;
            return add(view, key_node(view), hold ? "hold" : "as_well", {rival.move, judgement}, findings);
        }
    }
}

} // namespace

void only_move(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play()) {
        return;
    }
    const auto& nodes = view.puzzle().solution.nodes;
    const std::vector<bool> called = called_only(view);
    for (std::size_t node = 1; node < nodes.size() && may_ask_more(view); ++node) {
        if (nodes[node].status != MoveStatus::legal || !called[node] || answers_a_try(view, node)) {
            continue;
        }
        if (node == key_node(view)) {
            judge_key(view, findings);
        } else if (nodes[node].parent != 0) { // beside the key: key/cook and line/fails
            if (const auto other = OnlyMoveClaim(view, node).refuted()) {
                add(view, node, other->lost ? "lost" : "as_well", *other, findings);
            }
        }
    }
}

} // namespace rules::line
