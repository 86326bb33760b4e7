#pragma once
// One line of a solution with everything the detectors ask of it. Counting: ply 0 is the solver's first move,
// at(0) the diagram, at(n) the position after n plies; values in pawns, always from the solver's side.

#include "motif/motif.hpp"
#include "motif/settle.hpp"

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

namespace motif {

class Study {
  public:
    /// Stops quietly before the first illegal move: the line up to there is studied.
    Study(const SolutionLine& line, solve::Solver& solver);

    [[nodiscard]] std::size_t plies() const { return m_moves.size(); }
    /// The solver's first move: ply 0, in set play ply 2 (ply 0 is no move there).
    [[nodiscard]] std::size_t first() const { return m_first; }
    [[nodiscard]] bool has(std::size_t ply) const { return ply < m_moves.size(); }
    [[nodiscard]] board::Color us() const { return m_us; }
    [[nodiscard]] board::Color them() const { return !m_us; }
    [[nodiscard]] const board::Position& at(std::size_t n) const { return m_positions[n]; }
    [[nodiscard]] const board::Position& last() const { return m_positions.back(); }
    [[nodiscard]] board::Move move(std::size_t ply) const { return m_moves[ply]; }
    /// The role that moves, before a promotion.
    [[nodiscard]] board::Role mover(std::size_t ply) const;
    [[nodiscard]] std::optional<board::Role> captured(std::size_t ply) const;
    [[nodiscard]] int captured_worth(std::size_t ply) const;
    [[nodiscard]] bool gives_check(std::size_t ply) const { return at(ply + 1).in_check(); }
    [[nodiscard]] bool castles(std::size_t ply) const {
        return move(ply).kind() == board::MoveKind::castling;
    }

    /// The defender is mated at the end.
    [[nodiscard]] bool mates() const { return m_mates; }
    [[nodiscard]] int balance(std::size_t n) const { return m_balance[n]; }
    /// Balance after the captures and checks that hang over at(n) have been played out.
    [[nodiscard]] int settled(std::size_t n) const;
    /// What the line shows the solver to keep of at(n): settled there, or at its end where it goes on.
    [[nodiscard]] int kept(std::size_t n) const { return std::max(settled(n), settled(plies())); }
    /// What a gain at the solver's move `ply` is counted from: the balance after it, or before it when what
    /// it took is retaken at once.
    [[nodiscard]] int base_of(std::size_t ply) const;
    /// Where the defender captured with his move before the solver's move `ply`, as far as it is known.
    [[nodiscard]] std::optional<board::Square> captured_before(std::size_t ply) const;
    /// Settled at the end less the diagram's balance.
    [[nodiscard]] int gain() const { return settled(plies()) - balance(0); }
    /// The line mates or has gained at its end, or a search shows that it is about to (a pawn that runs).
    [[nodiscard]] bool wins() const { return mates() || gain() >= 1 || gains_later(); }
    /// n odd: the least the solver keeps in at(n) over all the defender's replies.
    [[nodiscard]] int forced(std::size_t n) const;

    /// Where the man on `square` in at(from) stands in at(to); nothing once it is taken.
    [[nodiscard]] std::optional<board::Square> follow(board::Square square, std::size_t from,
                                                      std::size_t to) const;
    /// The ply, at most `last`, at which the solver takes the man that stands on `square` in at(n).
    [[nodiscard]] std::optional<std::size_t> taken(board::Square square, std::size_t n,
                                                   std::size_t last) const;

    /// Whatever the defender answers to the solver's move `ply`, the solver comes out above `base` by a pawn
    /// or mates in the number of moves the line needs. Small search first, then the puzzle's solver.
    [[nodiscard]] bool sound(std::size_t ply, int base) const;
    /// The line mates, and no defence after the solver's move `ply` lasts longer than the line.
    [[nodiscard]] bool mate_forced(std::size_t ply) const;
    /// Drop-test: in `altered` (at(ply) with one thing changed, solver to move) the line's move no longer
    /// brings what it brought. An open answer is no.
    [[nodiscard]] bool fails_in(const board::Position& altered, std::size_t ply) const;
    /// The same for a diagram with the defender to move: in `altered` (at(n) with one thing changed, n odd)
    /// the solver gets less out of the position than he really does.
    [[nodiscard]] bool worse_in(const board::Position& altered, std::size_t n) const;
    /// After the solver's move `ply`, the moves he would have if the defender passed; nothing after a check.
    [[nodiscard]] std::optional<board::Position> passed(std::size_t ply) const {
        return at(ply + 1).passed();
    }
    /// By the solver's search he does not come out a pawn above `base`; an open answer is no.
    [[nodiscard]] bool fails_to_win(const board::Position& position, int base) const;
    /// No other move of the solver at `ply` comes as far, mates in the line's length or keeps as much.
    [[nodiscard]] bool only_move(std::size_t ply) const;

    /// By the solver's search it wins, and no other move at `ply` does. Not asked of mates, nor where there
    /// are so many moves that the answer would cost more than it tells.
    [[nodiscard]] bool only_winner(std::size_t ply) const;

    /// How a position of few men ends, from the endgame tables: 1 the solver mates, 0 a draw, -1 he is mated.
    /// Nothing when no table has it.
    [[nodiscard]] std::optional<int> result(const board::Position& position) const;

    [[nodiscard]] solve::Solver& solver() const { return *m_solver; }
    [[nodiscard]] Settler& settler() const { return m_settler; }

  private:
    [[nodiscard]] int moves_after(std::size_t ply) const;
    [[nodiscard]] bool gains_later() const;
    [[nodiscard]] bool search_sees_less(const board::Position& altered, std::size_t n) const;

    solve::Solver* m_solver;
    board::Color m_us;
    std::size_t m_first = 0;
    std::optional<board::Square> m_lead_in_capture;
    std::optional<bool> m_key_alone;
    std::vector<board::Position> m_positions;
    std::vector<board::Move> m_moves;
    std::vector<int> m_balance;
    bool m_mates = false;
    // Filled when first asked for: most lines need few of them.
    mutable Settler m_settler;
    mutable std::vector<std::optional<int>> m_settled;
    mutable std::vector<std::optional<int>> m_forced;
    mutable std::vector<std::optional<bool>> m_mate_forced;
    mutable std::vector<std::optional<bool>> m_only_move;
    mutable std::vector<std::optional<bool>> m_only_winner;
    mutable std::optional<bool> m_gains_later;
    mutable std::vector<std::pair<std::pair<std::size_t, int>, bool>> m_sound;
};

} // namespace motif
