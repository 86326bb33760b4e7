#pragma once
// Scores inside the search: hundredths of a pawn for the side to move; mates by their distance in plies.

#include "solve/verdict.hpp"

namespace solve {

inline constexpr int mate_score = 30000;  ///< the side to move has mated at ply 0
inline constexpr int mate_region = 29000; ///< beyond it a score is a mate
inline constexpr int infinite = 31000;
inline constexpr int longest_path = 96; ///< plies from the root of a search, quiescence included

[[nodiscard]] constexpr bool is_mate(int score) {
    return score > mate_region || score < -mate_region;
}

/// `score` seen from the solver, mates counted from the position asked about.
[[nodiscard]] constexpr Value value_of(int score) {
    if (score > mate_region) {
        return {score, (mate_score - score + 1) / 2};
    }
    if (score < -mate_region) {
        return {score, -((mate_score + score + 1) / 2)};
    }
    return {score, std::nullopt};
}

/// The score of a mate by the side to move with its `moves`-th move from here.
[[nodiscard]] constexpr int mating_score(int moves) {
    return mate_score - (2 * moves - 1);
}

/// One ply further from the end: what a child's score is worth at its parent (same point of view).
[[nodiscard]] constexpr int one_ply_up(int score) {
    if (score > mate_region) {
        return score - 1;
    }
    return score < -mate_region ? score + 1 : score;
}

} // namespace solve
