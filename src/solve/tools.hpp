#pragma once
// What one puzzle's questions share.

#include "solve/long_mate.hpp"
#include "solve/mate.hpp"
#include "solve/search.hpp"
#include "solve/solver.hpp"

namespace solve {

struct Tools {
    Tools(Budget limits, const EndgameTables* tables);
    Tools(const Tools&) = delete;
    Tools& operator=(const Tools&) = delete;

    Budget budget;
    Account account;
    Endgames endgames;
    MateProver prover;
    LongMateProver long_prover;
    Memory memory;
    Search search;
};

/// Not losing: at least about even. Solver's view, hundredths of a pawn.
inline constexpr int held_score = -60;
/// Losing for certain: a defender who is ahead by less may still be held.
inline constexpr int lost_score = -200;
/// For how many depths in a row an answer must stand to count.
inline constexpr int steady_depths = 3;
/// A value that moved no more than this over three depths is settled.
inline constexpr int settled_swing = 40;
/// Searches are not driven deeper than this, whatever is left to spend.
inline constexpr int deepest_question = 24;
/// Plies told of a line that is read from memory or a table.
inline constexpr std::size_t shown_plies = 16;

/// The value of `position` where it needs no search: the game is over, or a table has it.
[[nodiscard]] std::optional<int> exact_score(const Endgames& endgames, const board::Position& position,
                                             board::Color solver);

[[nodiscard]] KeyTable make_key_table(Tools& tools, const board::Position& position,
                                      const Question& question);

} // namespace solve
