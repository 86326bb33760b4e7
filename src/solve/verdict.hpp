#pragma once
// What the solver says, and how it knows.

#include "board/position.hpp"

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

namespace solve {

using Nodes = std::uint64_t;
using Line = std::vector<board::Move>;

enum class Certainty : std::uint8_t {
    proved,   ///< complete search, exact table, or a rule of the game
    searched, ///< held to the stated depth and nodes, stable over the last iterations
    open,     ///< the budget ended first
};
/// The weakest link of a chain.
[[nodiscard]] constexpr Certainty weaker(Certainty a, Certainty b) {
    return a > b ? a : b;
}
[[nodiscard]] std::string_view name(Certainty certainty);

enum class Effort : std::uint8_t { draft, review, press };
[[nodiscard]] std::string_view name(Effort effort);
[[nodiscard]] std::optional<Effort> read_effort(std::string_view text);

/// Bounds in nodes (positions visited). The same everywhere: never a clock.
struct Budget {
    Nodes mate;     ///< for one mate question
    Nodes value;    ///< for the value of one position
    Nodes question; ///< for one threshold question
    Nodes puzzle;   ///< for everything about one puzzle; past it every answer is open
    int mate_moves; ///< mates up to this length are looked for in every puzzle
    int table_men;  ///< endgame tables are asked from positions of up to so many men
    int depth;      ///< plies that a `searched` verdict rests on at least
};
[[nodiscard]] Budget budget_of(Effort effort);

/// Settled value in hundredths of a pawn, seen from the solver. A mate is told by `mate_in`, not by size.
struct Value {
    int score = 0;
    /// Mover's moves until mate: > 0 the solver mates, < 0 the defender does (-1: the defender mates with his
    /// next move).
    std::optional<int> mate_in;
    friend bool operator==(const Value&, const Value&) = default;
};

enum class Answer : std::uint8_t { yes, no, open };

/// The answer to one question about one position.
struct Judgement {
    Answer answer = Answer::open;
    Certainty certainty = Certainty::open;
    Value value;   ///< what the search saw; a bound when the question was a threshold
    Line line;     ///< play that shows it, from the position asked about
    int depth = 0; ///< plies; 0 for proofs
    Nodes nodes = 0;
};

} // namespace solve
