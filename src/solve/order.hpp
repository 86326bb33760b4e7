#pragma once
// Which moves to look at first: what was best before, what takes most for least, what refuted sister lines.

#include "board/position.hpp"

#include <array>
#include <cstdint>

namespace solve {

/// What earlier parts of a search taught about quiet moves.
class Experience {
  public:
    /// A quiet `move` refuted the line at `ply`; `tried` quiet moves before it did not.
    void reward(board::Color side, int ply, int depth, board::Move move, const board::MoveList& tried);
    [[nodiscard]] bool refuted_at(int ply, board::Move move) const;
    [[nodiscard]] int weight(board::Color side, board::Move move) const;

  private:
    [[nodiscard]] static std::size_t slot(board::Color side, board::Move move);
    void shift(board::Color side, board::Move move, int bonus);
    std::array<std::array<board::Move, 2>, 128> m_refuters{};
    std::array<std::int16_t, std::size_t{2} * 64 * 64> m_weights{};
};

/// Hands out moves, the most promising first. The position must be at hand, unchanged, whenever a move is
/// asked for.
class Picker {
  public:
    /// Every legal move.
    Picker(const board::Position& position, board::Move first, const Experience& experience, int ply);
    /// Captures and promotions that lose nothing, and quiet checks that lose nothing when asked for.
    enum class Quiet : std::uint8_t { none, checks };
    Picker(const board::Position& position, board::Move first, Quiet quiet);

    /// Nothing (a move that is none) when all were handed out.
    [[nodiscard]] board::Move next();

  private:
    enum class Losing : std::uint8_t { last, dropped };
    void rank_all(board::Move first, const Experience& experience, int ply);
    [[nodiscard]] std::size_t best_left() const;
    [[nodiscard]] bool sink_if_losing(std::size_t at);

    const board::Position& m_position;
    Losing m_losing; ///< what becomes of moves that lose men on their square
    board::MoveList m_moves;
    std::array<int, board::MoveList::capacity> m_ranks;
    std::size_t m_next = 0;
};

} // namespace solve
