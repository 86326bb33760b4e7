#pragma once
// The single conditions this room is made of. Each returns the first contradiction it finds, or nothing.
// Tests of the placement expect one king a side (where it says so, at most one), pawns on their ranks, and
// side fields that have passed fields.cpp.

#include "setup/legality.hpp"

#include <optional>

namespace setup {

using Finding = std::optional<Contradiction>;

// counts.cpp: kings, pawn ranks, men and promotions. These expect nothing.
void find_king_faults(const board::Setup& diagram, std::vector<Contradiction>& found); ///< K1, K2
[[nodiscard]] Finding pawn_on_last_rank(const board::Setup& diagram);                  ///< P1
[[nodiscard]] Finding opponent_in_check(const board::Setup& diagram);                ///< C1, nothing repaired
[[nodiscard]] Finding too_many_men(const board::Setup& diagram, board::Color color); ///< N1 to N3
[[nodiscard]] Finding promotions_without_captures(const board::Setup& diagram);      ///< N4
/// Officers of which there are more than at the start, originals included.
[[nodiscard]] board::Bitboard swollen_groups(const board::Setup& diagram, board::Color color);
/// N1 and N2 as a question, for the many positions one move earlier.
[[nodiscard]] bool men_fit(const board::Setup& diagram, board::Color color);
/// Men that cannot all be originals: the least number of promotions so far.
[[nodiscard]] int promotions_shown(const board::Setup& diagram, board::Color color);

// pawns.cpp
[[nodiscard]] Finding pawn_structure(const board::Setup& diagram); ///< W1, W2, W3, W5
/// The same as a question.
[[nodiscard]] bool pawns_can_stand(const board::Setup& diagram);
/// W1 alone; needs no kings.
[[nodiscard]] Finding pawns_without_homes(const board::Setup& diagram, board::Color color);

// budget.cpp
/// Nodes that W4 may take for the diagram itself.
inline constexpr int most_nodes = 20000;
/// W4; "not shown illegal" when more nodes than that would be needed.
[[nodiscard]] Finding promotions_past_pawns(const board::Setup& diagram, int nodes = most_nodes);

// flood.cpp: these do with at most one king a side.
[[nodiscard]] Finding check_by_unmoved_pawn(const board::Setup& diagram); ///< H2
[[nodiscard]] Finding locked_men(const board::Setup& diagram);            ///< H1
/// H3: home squares where a bishop was captured that never left: by no pawn, not even one that promoted.
[[nodiscard]] board::Bitboard bishops_lost_at_home(const board::Setup& diagram, board::Color color);
/// H3: home squares of `color` whose men were captured where no pawn still on the board can have done it.
[[nodiscard]] board::Bitboard losses_beyond_pawns(const board::Setup& diagram, board::Color color);

// fields.cpp: castling letters, en-passant square, counters, tempo. These expect nothing.
[[nodiscard]] Finding rights_without_men(const board::Setup& diagram);                  ///< R1
[[nodiscard]] Finding en_passant_square(const board::Setup& diagram);                   ///< E1, E2
void find_clock_faults(const board::Setup& diagram, std::vector<Contradiction>& found); ///< F1, F2, E4
[[nodiscard]] Finding turn_against_tempo(const board::Setup& diagram);                  ///< B1

// last_move.cpp
[[nodiscard]] Finding three_checkers(const board::Setup& diagram); ///< T1
[[nodiscard]] Finding no_last_move(const board::Setup& diagram);   ///< T2, T3, M1, M3, E3
/// M2, M3, E3, E5, and F1 by the last move; for diagrams that have one.
[[nodiscard]] Finding earlier_moves(const board::Setup& diagram);

// legality.cpp
/// The first of the tests of the placement that fails, cheapest first: H2, W, N4, H1.
[[nodiscard]] Finding placement(const board::Setup& diagram);
/// None of them fails, for the many positions one move earlier.
[[nodiscard]] bool placement_can_arise(const board::Setup& diagram);

} // namespace setup
