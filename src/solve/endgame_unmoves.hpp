#pragma once
// Moves taken back within one table: no captures, no promotions.

#include "solve/endgame_first_look.hpp"

namespace solve::endgame {

[[nodiscard]] constexpr board::Square after_double_step(board::Color color, board::Square from) {
    return board::square_at(index(from) + (color == board::Color::white ? 16 : -16));
}

/// The walk of each_unmove.
template <class Visit> class Unmoves {
  public:
    Unmoves(const Layout& layout, const Examiner& examiner, Index index, const Visit& visit)
        : m_layout(layout), m_examiner(examiner), m_entry(layout.entry(index)), m_visit(visit),
          m_mover(!m_entry.placement.turn),
          m_same(layout.at(m_mover, m_entry.pair, m_entry.placement.at[2], m_entry.placement.at[3])) {
        for (std::size_t i = 0; i < examiner.men(); ++i) {
            m_occupied |= m_entry.placement.at[i];
        }
    }

    void run() const {
        king();
        for (std::size_t i = 2; i < m_examiner.men(); ++i) {
            const board::Piece man = m_examiner.man(i);
            if (man.color == m_mover) {
                man.role == board::Role::pawn ? pawn(i) : officer(i, man.role);
            }
        }
    }

  private:
    using Square = board::Square;
    static constexpr int above_diagonal(Square square) { return rank_of(square) - file_of(square); }

    void king() const {
        const Placement& now = m_entry.placement;
        const bool on_diagonal = m_layout.kings()[m_entry.pair].on_diagonal;
        for (const Square from : board::king_attacks(now.at[index(m_mover)]) & ~m_occupied) {
            if (on_diagonal && above_diagonal(from) > 0) {
                continue; // its mirror image is met from the mirror image of this position
            }
            Placement before = now;
            before.at[index(m_mover)] = from;
            const KingPairs::Place place = m_layout.kings().place(before.at[0], before.at[1]);
            if (place.number == KingPairs::none) {
                continue;
            }
            const Square first = turn(before.at[2], place.symmetry);
            const Square second = turn(before.at[3], place.symmetry);
            m_visit(m_layout.at(m_mover, place.number, first, second), std::nullopt);
            if (!on_diagonal && m_layout.kings()[place.number].on_diagonal) {
                m_visit(m_layout.at(m_mover, place.number, turn(first, about_diagonal),
                                    turn(second, about_diagonal)),
                        std::nullopt);
            }
        }
    }

    /// The kings stay, so the table's symmetry does.
    [[nodiscard]] Index moved(std::size_t number, Square from) const {
        const int squares = index(from) - index(m_entry.placement.at[number]);
        return m_same + static_cast<Index>(squares) * m_layout.stride(number - 2);
    }

    void officer(std::size_t number, board::Role role) const {
        for (const Square from : reach(role, m_entry.placement.at[number], m_occupied) & ~m_occupied) {
            m_visit(moved(number, from), std::nullopt);
        }
    }

    void pawn(std::size_t number) const {
        const int back = m_mover == board::Color::white ? -8 : 8;
        const Square now = m_entry.placement.at[number];
        const int rank = relative_rank(m_mover, now);
        const Square one = board::square_at(index(now) + back);
        if (rank < 2 || m_occupied.contains(one)) {
            return;
        }
        m_visit(moved(number, one), std::nullopt);
        const Square two = board::square_at(index(one) + back);
        if (rank == 3 && !m_occupied.contains(two)) {
            m_visit(moved(number, two), m_examiner.taken_in_passing(m_entry.placement, number));
        }
    }

    const Layout& m_layout;
    const Examiner& m_examiner;
    Layout::Entry m_entry;
    const Visit& m_visit;
    board::Color m_mover;
    Index m_same; ///< this position with the other side to move
    board::Bitboard m_occupied;
};

/// Calls `visit(before, taken)` with the index of each position a move leads from into the one at `index`,
/// once for each such move of a position of the table, impossible positions among them. `taken` is what the
/// move is worth if it is a double step that can be taken in passing (Examiner::taken_in_passing).
template <class Visit>
void each_unmove(const Layout& layout, const Examiner& examiner, Index index, const Visit& visit) {
    Unmoves<Visit>(layout, examiner, index, visit).run();
}

} // namespace solve::endgame
