#pragma once
// The one door to all proofs and searches about a puzzle. Deterministic: same position, same budget, same
// bytes.

#include "solve/problem.hpp"
#include "solve/verdict.hpp"

#include <memory>
#include <span>

namespace solve {

class EndgameTables;

/// What the solver must reach. Mate in at most `mate_in` own moves, or a settled score of at least `score`.
struct Aim {
    std::optional<int> mate_in;
    int score = 0;
    int doubt = 60; ///< a score less than this below the aim neither reaches it nor fails for certain
    [[nodiscard]] static Aim mate(int moves) { return {moves}; }
    [[nodiscard]] static Aim value(int score) { return {std::nullopt, score}; }
    /// Not to lose: goals draw and hold.
    [[nodiscard]] static Aim hold();
};

/// How a first move compares with the printed key.
enum class Standing : std::uint8_t {
    key,         ///< it is the printed key
    as_good,     ///< mates as fast, or comes within `near`: a cook unless accepted
    also_wins,   ///< reaches the goal, but clearly less or later
    less,        ///< clearly less than the key; whether it still reaches the goal did not settle
    falls_short, ///< does not reach the goal
    better,      ///< clearly better than the key: a shorter mate, or more by `near`
    open,        ///< the budget ended first
};

enum class ValueIs : std::uint8_t { exact, at_least, at_most };

struct MoveVerdict {
    board::Move move;
    Standing standing = Standing::open;
    Answer reaches_goal = Answer::open;
    Certainty certainty = Certainty::open; ///< of `standing`
    Value value; ///< may be a bound: of a rival that by which the question was answered, of the key only a
                 ///< long mate (at_least: at most so many moves)
    ValueIs value_is = ValueIs::exact;
    bool below_key = false; ///< settled below the key by `near`, or a mate later
    Line line;              ///< begins with `move`; for a move that fails, ends in what refutes it
    int depth = 0;          ///< plies, the first move included; 0 for proofs
    Nodes nodes = 0;
};

/// What the table is asked about.
struct Question {
    std::optional<int> mate_in;     ///< goal "mate in N"
    int goal_score = 200;           ///< other goals: the settled score that reaches the goal (solver's view)
    int near = 100;                 ///< hundredths of a pawn
    std::optional<board::Move> key; ///< the printed key; without one the best move takes its place
    bool draw_suffices = false; ///< goals draw and hold: not losing is enough, all drawing moves are equal
};

struct KeyTable {
    std::vector<MoveVerdict> moves; ///< every legal first move: the key first, then best first, ties by move
    std::optional<int> shortest_mate; ///< solver's moves; found
    /// Every mate up to N (goal mate), else up to the shortest or to mate_moves, was found or excluded.
    bool mate_search_complete = false;
    int mate_searched_to = 0; ///< length up to which that holds
    /// The solver was ahead by the goal's score before he moved: `near` and mates alone decide, and a move
    /// that is not as good as the key falls short whatever it still wins.
    bool decided_before = false;
    /// The greatest value of the key over its last three depths; nothing where it was not searched so deep.
    std::optional<int> key_at_most;
    Nodes nodes = 0;
    /// Every rival lies below the key: it is the one best move, whether or not its score reaches the goal.
    [[nodiscard]] bool key_stands_out() const;
    [[nodiscard]] const MoveVerdict* of(board::Move move) const;
    [[nodiscard]] const MoveVerdict* best() const; ///< highest value; nullptr when there is no legal move
};

struct Mates {
    std::optional<int> length;     ///< shortest, in solver's moves, up to the length asked for
    std::vector<board::Move> keys; ///< every first move that mates in exactly `length`
    Line line;                     ///< longest defence, first key
    bool complete = false; ///< false: the budget ended first, `length` may be missing and keys may be too
    Nodes nodes = 0;
};

/// Holds one puzzle's transposition memory and node account; make one a puzzle, never share between puzzles.
class Solver {
  public:
    /// `tables` (none: no exact endings) must outlive the solver.
    explicit Solver(Budget budget, const EndgameTables* tables = nullptr);
    ~Solver();
    Solver(Solver&&) noexcept;
    Solver& operator=(Solver&&) noexcept;

    /// Shortest mate by the side to move in at most `moves`, all keys of that length. Complete unless the
    /// budget ends.
    [[nodiscard]] Mates mates(const board::Position& position, int moves);
    /// Does `solver` reach the aim from here, whoever is to move? Mate: `mate_in` counts the solver's moves
    /// from here on.
    [[nodiscard]] Judgement reaches(const board::Position& position, board::Color solver, Aim aim);
    /// Settled value of best play from here, seen from `solver`.
    [[nodiscard]] Judgement value(const board::Position& position, board::Color solver);
    /// A verdict for every legal first move.
    [[nodiscard]] KeyTable table(const board::Position& position, const Question& question);
    /// What else a direct mate has to show: threats, set play, tries, duals. `question.key` must be legal.
    [[nodiscard]] Problem problem(const board::Position& position, const ProblemQuestion& question);

    [[nodiscard]] Nodes nodes_used() const;

  private:
    struct State;
    std::unique_ptr<State> m_state;
};

/// Material balance in pawns on the 1-3-3-5-9 scale, seen from `side`.
[[nodiscard]] int balance(const board::Position& position, board::Color side);
/// Static exchange evaluation on `square` in pawns for `side` capturing first, cheapest first, absolute pins
/// obeyed; 0 when nothing is to be had.
[[nodiscard]] int exchange_gain(const board::Position& position, board::Square square, board::Color side);

} // namespace solve
