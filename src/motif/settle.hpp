#pragma once
// Material after the storm: small bounded searches of captures, promotions, checks and evasions, counted in
// pawns.

#include "board/position.hpp"

namespace motif {

/// What a mate is worth here; a mate further off is worth a few less.
constexpr int mate_value = 1000;

/// Answers for one line out of one account of nodes; when it is empty, positions count as they stand.
/// Deterministic.
class Settler {
  public:
    explicit Settler(int nodes = 3'000'000) : m_left(nodes) {}

    /// Balance seen from `side`, whoever is to move, after captures, promotions and evasions; the side to
    /// move may also try every check at its first move. Stalemate is 0.
    [[nodiscard]] int settle(const board::Position& position, board::Color side);
    /// The least `side` keeps over all replies of the other side, which is to move; each reply is settled.
    [[nodiscard]] int worst_reply(const board::Position& position, board::Color side);
    /// Does `side` keep at least `goal` whatever the other side, which is to move, replies, given up to
    /// `moves` moves of his own (quiet ones too) before the position is settled? False when the bounded
    /// search does not show it.
    [[nodiscard]] bool keeps(const board::Position& position, board::Color side, int goal, int moves);

  private:
    [[nodiscard]] int settle_within(const board::Position& position, int alpha, int beta);
    [[nodiscard]] int search(board::Position& position, int alpha, int beta, int ply);
    [[nodiscard]] bool holds(const board::Position& position, board::Color side, int goal, int moves);
    [[nodiscard]] bool answers(const board::Position& position, board::Color side, int goal, int moves);

    int m_left;       ///< nodes for the line
    int m_single = 0; ///< nodes for the position being settled
    int m_asked = 0;  ///< nodes for the keeps() being answered
};

} // namespace motif
