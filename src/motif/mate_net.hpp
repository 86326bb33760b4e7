#pragma once
// The final position of a mate, as the mate pictures look at it.

#include "motif/study.hpp"

#include <string_view>

namespace motif {

/// Every square next to the mated king is blocked by its own man or guarded (or both).
struct MateNet {
    board::Position position;
    board::Color us; ///< the side that mates
    board::Square king;
    board::Square checker;   ///< the man that gives mate; of two checkers the one that moved
    board::Role role;        ///< of the checker
    board::Bitboard field;   ///< squares next to the king
    board::Bitboard blocked; ///< of these, held by the king's own men
    board::Bitboard
        guarded; ///< of these, attacked by the mating side, lines running through the king's square

    /// Squares of the field that men of `men` attack, lines running through the king's square.
    [[nodiscard]] board::Bitboard guarded_by(board::Bitboard men) const;
    [[nodiscard]] bool guarded_man(board::Square square) const; ///< by a friend other than itself
    [[nodiscard]] board::Bitboard ours(board::Role of) const { return position.pieces(us, of); }
    [[nodiscard]] bool heavy() const { return role == board::Role::rook || role == board::Role::queen; }
    [[nodiscard]] int files_away() const; ///< checker's file less the king's
    [[nodiscard]] int ranks_away() const;
    /// A square `files` and `ranks` from the king holds one of its own men.
    [[nodiscard]] bool blocked_at(int files, int ranks) const;
};

/// Nothing when the line does not end in the solver's mate.
[[nodiscard]] std::optional<MateNet> mate_net(const Study& study);
/// One piece of evidence for the last move.
void report_mate(const Study& study, const MateNet& net, std::string_view motif, Level level,
                 std::vector<Evidence>& found);

} // namespace motif
