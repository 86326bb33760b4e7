#pragma once
// One position held against thresholds, one ply deeper at a time, until the answer no longer changes.

#include "solve/search.hpp"
#include "solve/solver.hpp"

#include <span>
#include <vector>

namespace solve {

class Trial {
  public:
    /// `before`: hashes of the positions that led here, for repetitions.
    Trial(const board::Position& position, board::Color solver, std::vector<board::Hash> before,
          const Endgames& endgames);

    /// Searches one ply deeper than before and finds how many of the ascending `thresholds` (solver's view)
    /// are reached. False when the account ran dry: the trial stays as it was.
    [[nodiscard]] bool deepen(Search& search, std::span<const int> thresholds);
    /// The same with the exact score; thresholds are not looked at.
    [[nodiscard]] bool deepen_exactly(Search& search);

    /// The thresholds have moved: what the last depth found is held against the new ones, and forgotten where
    /// it does not say on which side it stands.
    void measure(std::span<const int> thresholds);

    /// How many thresholds were reached at the last depth; -1 before the first.
    [[nodiscard]] int reached() const { return m_reached; }
    /// For how many depths in a row that was so.
    [[nodiscard]] int steady_for() const { return m_steady; }
    /// Did none of the last three depths leave room for a score of `threshold`?
    [[nodiscard]] bool below_lately(int threshold) const;
    [[nodiscard]] int depth() const { return m_depth; }
    /// Solver's view; a bound after deepen(), exact after deepen_exactly().
    [[nodiscard]] int score() const { return m_score; }
    [[nodiscard]] ValueIs score_is() const { return m_score_is; }
    /// Largest minus smallest exact score of the last three depths; a large number before that.
    [[nodiscard]] int swing() const;
    /// The least and the greatest exact score of the last three depths; nothing is sure before that.
    [[nodiscard]] int lowest_lately() const;
    [[nodiscard]] int highest_lately() const;
    /// Deeper would change nothing: a mate that three depths agree on, or no depth left.
    [[nodiscard]] bool ended() const;
    /// The depth from which on every exact score stayed within `margin` of the last one.
    [[nodiscard]] int seen_from(int margin) const;
    [[nodiscard]] const Line& line() const { return m_line; }
    [[nodiscard]] const board::Position& position() const { return m_position; }
    /// The value where it needs no search (solver's view): the game has ended, or a table has the position.
    [[nodiscard]] std::optional<int> exact() const { return m_exact; }

  private:
    [[nodiscard]] std::optional<int> ask(Search& search, int depth, int threshold);

    board::Position m_position;
    board::Color m_solver;
    std::vector<board::Hash> m_before;
    int m_depth = 0;
    int m_reached = -1;
    int m_steady = 0;
    std::vector<int> m_highs; ///< by depth of deepen(): the score is no higher
    int m_score = 0;
    int m_low = -infinite; ///< what the last depth knows: the score lies between these
    int m_high = infinite;
    ValueIs m_score_is = ValueIs::at_most;
    std::optional<int> m_exact;
    std::vector<int> m_scores; ///< exact, by depth from 1
    Line m_line;
};

} // namespace solve
