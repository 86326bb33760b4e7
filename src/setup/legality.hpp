#pragma once
// Can this diagram arise from the initial array? Necessary conditions, the cheapest and strongest first. No
// list of cheap conditions proves that a diagram is reachable, so there are only proofs of the contrary.
// Sources: FIDE Laws of Chess; PGN standard 1994, section 16.1; Codex for Chess Composition (WFCC);
// retro-analysis lore.

#include "board/setup.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace setup {

/// What is wrong, as a reader would file it. Each answers to a few codes (K1, N2, ...) of which `code` names
/// one.
enum class Rule : std::uint8_t {
    kings,             ///< K1 number of kings, K2 kings side by side
    pawn_ranks,        ///< P1
    opponent_in_check, ///< C1
    too_many_pieces,   ///< N1 men, N2 promotions, N3 bishops of one colour, N4 promotions against captures
    unreachable,       ///< H1 locked in or out, W1-W3 and W5 pawn structure, W4 promotions past
                       ///< the pawns
    impossible_check,  ///< H2 by an unmoved pawn, T1 three checkers, T2 double, T3 single check
    no_last_move,      ///< M1 nobody can have moved, M2 every last move leads back to an impossible diagram
    castling_rights,   ///< R1 king or rook not at home, R3 a right against the rest, M3 a right against the
                       ///< last move, R5 rights of both sides against each other
    en_passant,        ///< E1 rank, E2 pawn, E3 check, E5 provable but not stated
    counters,  ///< F1 clocks, F2 drawn by the clock, E4 clock after a double step, B1 turn against tempo
    game_over, ///< G1 no legal move, G2 neither side can mate
};

enum class Grade : std::uint8_t {
    illegal,   ///< proof: this placement with this side to move cannot arise
    field,     ///< proof: one side field contradicts the placement, which may be fine
    suspicion, ///< the diagram may well arise (certain facts about it, such as G1, are filed here too)
};

struct Contradiction {
    Rule rule;
    std::string code; ///< "N2"
    Grade grade;
    std::string why;                    ///< a sentence without final stop, to be checked against the diagram
    std::vector<board::Square> squares; ///< the men or squares it speaks of, ascending
    std::optional<board::Setup> repaired; ///< the single change that mends it, when there is exactly one
};

/// Whether the diagram shows every man. One that leaves men out, kings perhaps, is asked only what no further
/// man could put right.
enum class Extent : std::uint8_t { whole, partial };

/// Everything provably wrong with the diagram, smallest reason first; empty means "not shown illegal", never
/// "legal". Orthodox chess, or Chess960 when the diagram's home array is shuffled: then nothing is asked that
/// rests on where the officers started. Bounded work: about ten microseconds as a rule, some ten
/// milliseconds at the very worst.
[[nodiscard]] std::vector<Contradiction> contradictions(const board::Setup& diagram,
                                                        Extent extent = Extent::whole);

/// So many moves, at least, has this side made: one for every officer away from home, the pawns' steps. A
/// bound only: detours, captures on the way and promotions are not counted. 0 for a shuffled array.
[[nodiscard]] int fewest_moves(const board::Setup& diagram, board::Color color);

} // namespace setup
