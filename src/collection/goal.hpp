#pragma once
// What a puzzle asks for (its stipulation).

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace collection {

enum class GoalKind : std::uint8_t {
    mate,         ///< mate in `moves`
    win,          ///< a decided game
    win_material, ///< win `unit`
    draw,         ///< reach a draw
    hold,         ///< the only move that does not lose
    best,         ///< find the best move
    not_checked,  ///< a stipulation of another kind (helpmate, selfmate, proof game ...): recognised, never
                  ///< tested
};

enum class GoalUnit : std::uint8_t { queen, rook, exchange, piece, pawn };

struct Goal {
    GoalKind kind = GoalKind::best;
    int moves = 0;                  ///< mate only: solver's moves, 1..
    GoalUnit unit = GoalUnit::pawn; ///< win_material only
    friend bool operator==(Goal, Goal) = default;
};

/// "mate in 3", "#3", "win", "+", "win the exchange", "draw", "=", "hold", "only move", "best", "h#2"; case
/// and articles do not matter.
[[nodiscard]] std::optional<Goal> read_goal(std::string_view text);
/// "mate in 3", "win exchange"
[[nodiscard]] std::string write_goal(Goal goal);
/// Least settled gain in pawns that banks the goal; win_material only (1 for a pawn ... 4 for "queen for a
/// rook").
[[nodiscard]] int least_gain(GoalUnit unit);

} // namespace collection
