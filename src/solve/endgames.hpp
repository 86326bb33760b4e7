#pragma once
// The endgame tables as one puzzle's questions use them.

#include "solve/endgame_tables.hpp"
#include "solve/score.hpp"

#include <optional>

namespace solve {

class Endgames {
  public:
    /// Tables are asked in questions about positions of up to `from_men` men; never without `tables`.
    Endgames(const EndgameTables* tables, int from_men) : m_tables(tables), m_from_men(from_men) {}

    /// To be called at the start of a question: a crowded position needs no tables, and would have them built
    /// for nothing.
    void serve(const board::Position& root) {
        m_serving = m_tables != nullptr && root.occupied().count() <= m_from_men;
    }
    /// Exact value for the side to move, where a table has the position.
    [[nodiscard]] std::optional<EndgameValue> value(const board::Position& position) const {
        return m_serving && position.occupied().count() <= EndgameTables::most_men ? m_tables->probe(position)
                                                                                   : std::nullopt;
    }
    /// The same as a score of the search, mates counted from the root `ply` plies before.
    [[nodiscard]] std::optional<int> score(const board::Position& position, int ply = 0) const;
    /// Best play of both sides from a position that a table has, up to `longest` plies; nothing for draws.
    [[nodiscard]] Line best_play(const board::Position& position, std::size_t longest) const;

  private:
    const EndgameTables* m_tables;
    int m_from_men;
    bool m_serving = false;
};

} // namespace solve
