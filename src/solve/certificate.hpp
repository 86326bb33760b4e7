#pragma once
// Proof certificates: a proved mate written out as a tree that anybody can replay.
//
// Lines of ASCII, each ended by a line feed (a carriage return before it is passed over in reading):
//
//     sidelint certificate 1
//     fen 6k1/7p/5K2/7R/8/8/8/8 w - - 0 1
//     goal mate in 5
//     key Rb5
//     Kf8 Rb8#
//     Kh8 Rb8#
//     h6 Ra5
//       Kh7 Kf7
//         Kh8 Kg6
//           Kg8 Ra8#
//           h5 Ra8#
//         h5 Rxh5#
//       Kf8 Ra8#
//       Kh8 Kg6 = 9
//       h5 Rxh5
//         Kf8 Rh8#
//     h5 Rxh5 = 15
//
// Line 1 names format and version, 2 the diagram in six fields, 3 the length claimed: at most so many moves
// of the solver, the key included; it may be more than the longest branch needs. Line 4 is the key. Unless
// the key mates, all legal replies of the defender follow, one a line and each exactly once, with the
// solver's answer behind it. An answer that does not mate is followed in its turn by the lines of all replies
// to it, two blanks further in, or by "= 9": after the answer the position is the one after line 9's answer,
// and what follows there follows here. Only an earlier line can be named whose replies are all written out by
// then, so no chain of references comes back to itself; and what follows there must end within the moves left
// here. Positions are the same when men, side to move, castling rights and a legal capture in passing are
// (FIDE Laws 9.2).
//
// Moves are in export SAN with check and mate signs and in no other spelling: a person follows them beside a
// board, any library of the rules reads them, and one spelling a move makes every byte mean something. Every
// branch ends in "#" or in a reference. Repetition and the fifty-move rule are left out, as in all problems
// of this kind.
//
// A certificate rests on nothing but its own lines. Where the prover asks an endgame table the answer only
// chooses the move; the tree is written down to mate, and is refused when that takes more lines than the
// bound (certificate_check.hpp). The same claim and the same budget give the same bytes.

#include "solve/certificate_check.hpp"
#include "solve/endgame_tables.hpp"
#include "solve/verdict.hpp"

namespace solve {

/// The side to move mates with `key` in at most `moves` moves, the key included. Claims beyond
/// most_certificate_moves are held to so many.
struct MateClaim {
    board::Position position;
    board::Move key;
    int moves = 0;
};

enum class CertificateRefusal : std::uint8_t {
    no_mate,      ///< the claim is wrong
    budget_ended, ///< before the proof was written out
    too_long,     ///< more lines than allowed
    too_deep,     ///< no mate within the moves a certificate has room for, fewer than the claim's
};

[[nodiscard]] std::string_view name(CertificateRefusal refusal); ///< as it is spelt above

template <class T> using Certified = board::Result<T, CertificateRefusal>;

/// Proves the claim with what the budget allows a puzzle, and tables (none: nullptr) to choose moves by, and
/// writes it out, `most_lines` at most. Long mates are tried by checks first, which is mostly quicker and
/// shorter, then by proof numbers, then with every move.
[[nodiscard]] Certified<std::string> write_certificate(const MateClaim& claim, const Budget& budget,
                                                       const EndgameTables* tables = nullptr,
                                                       std::size_t most_lines = most_certificate_lines);

} // namespace solve
