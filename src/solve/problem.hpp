#pragma once
// What a problem lover looks for in a direct mate in N (N >= 2) beside its key: threat or block, set play,
// tries, duals. Everything told is proved; what the budget did not reach is missing and said to be
// (`complete`).
//
// Words (common practice):
//   threat    what the solver would mate with if he could move again after the key
//   block     a key that gives no check and threatens nothing: the defender must spoil something himself
//   set play  the mates that are ready in the diagram if the defender were to move there; a complete block
//             when every move of his has one; a changed mate when the same reply is met after the key, and by
//             none of the same moves (a man that the key has moved keeps its identity); a mutate when the key
//             of a complete block is a block and some mate changes
//   try       a first move that does not mate in N and fails to exactly one reply, its refutation; a weak try
//             fails to two. It must show a mate: it threatens one, or a reply other than those that refute it
//             is mated. A move of which neither is true (a check that the one legal reply answers) is a
//             blunder.
//   dual      a reply to the key after which several moves keep the mate in time
//
// Where mates are counted, only the quickest count: `moves` of a Continuations all mate in `length` of the
// solver's moves, themselves included, and none mates sooner.
//
// Every list is in the order of the board (by_board): a1, b1 ... h8 of departure, then of arrival.

#include "solve/verdict.hpp"

namespace solve {

struct Tools;

struct ProblemQuestion {
    board::Move key;
    int moves = 2; ///< N
};

/// The solver is to move.
struct Continuations {
    int length = 0; ///< 0: there is no mate in time
    std::vector<board::Move> moves;
    friend bool operator==(const Continuations&, const Continuations&) = default;
};

/// How many ways the solver has after a reply to the key, and what that is called.
enum class Ways : std::uint8_t {
    one,
    dual,
    promotion_dual,   ///< one pawn move, to queen or rook, or to queen or bishop: the common power mates
    sooner,           ///< the reply let the solver mate sooner than in N: never a dual
    multiple_threat,  ///< several, the reply parries none of two or more threats: no dual
    threat_and_other, ///< several, the reply does not parry the one threat: by custom no dual
};

/// A reply to the key.
struct Variation {
    board::Move reply;
    Continuations answer;             ///< in at most N - 1 moves
    std::size_t threats_standing = 0; ///< how many threats still keep the mate in time
    Ways ways = Ways::one;
};

struct SetMate {
    board::Move reply; ///< in the diagram
    Continuations answer;
    bool changed = false; ///< false unless proved
};

struct SetPlay {
    std::vector<SetMate> mates;
    std::vector<board::Move> unprovided; ///< replies without a set mate
    [[nodiscard]] bool complete_block() const { return !mates.empty() && unprovided.empty(); }
};

struct Try {
    board::Move move;
    std::vector<board::Move> refutations; ///< all there are
};

struct Problem {
    board::Move key;
    int moves = 0;                    ///< N
    Answer key_solves = Answer::open; ///< mates in at most N
    bool key_checks = false;          ///< then there is no talk of threats
    bool key_captures = false;
    /// Squares that the defender's king could enter in the diagram if it were his move, and cannot after the
    /// key; and the reverse. Empty when the solver is in check.
    std::vector<board::Square> flights_taken;
    std::vector<board::Square> flights_given;
    std::optional<Continuations> threats; ///< nothing: the key checks, does not solve, or the budget ended
    std::optional<std::vector<Variation>>
        variations;                  ///< nothing: the key does not solve, or the budget ended
    std::optional<SetPlay> set_play; ///< nothing: the solver is in check, or the budget ended
    std::vector<Try> tries;          ///< one refutation
    std::vector<Try> weak_tries;     ///< two
    bool tries_complete = false;     ///< every first move was held against every reply
    bool complete = false;           ///< the budget ended nowhere
    Nodes nodes = 0;

    [[nodiscard]] bool is_block() const { return threats && threats->moves.empty(); }
    [[nodiscard]] bool is_mutate() const;
};

/// Order of the board.
[[nodiscard]] bool by_board(board::Move a, board::Move b);

/// Pays from the node account, a mate question's share each for key, set play and tries. `key` must be legal;
/// for N < 2 nothing is answered.
[[nodiscard]] Problem examine_problem(Tools& tools, const board::Position& position,
                                      const ProblemQuestion& question);

} // namespace solve
