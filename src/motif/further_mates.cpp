// Pictures that need two men of the attack to make them out: who guards the mating man, who the flights.

#include "motif/detectors.hpp"
#include "motif/mate_net.hpp"

#include <array>
#include <cstdlib>

namespace motif {
namespace {

using board::Bitboard;
using board::Role;
using board::Square;

bool king_at_home(const MateNet& net) {
    return board::relative_rank(!net.us, net.king) == 0;
}

bool king_in_corner(const MateNet& net) {
    constexpr Bitboard corners(0x8100000000000081ULL);
    return corners.contains(net.king);
}

bool beside_king_on_rank(const MateNet& net) {
    return net.ranks_away() == 0 && std::abs(net.files_away()) == 1;
}

bool next_to_king(const MateNet& net) {
    return net.field.contains(net.checker);
}

/// Own pawns that guard the square.
Bitboard pawns_at(const MateNet& net, Square square) {
    return net.ours(Role::pawn) & board::pawn_attacks(!net.us, square);
}

/// Squares next to the king that neither his own men hold nor the checker guards.
Bitboard left_open(const MateNet& net) {
    return net.field & ~net.blocked & ~net.guarded_by(Bitboard(net.checker));
}

bool anderssen(const MateNet& net) {
    if (!king_at_home(net) || !net.heavy() || !beside_king_on_rank(net)) {
        return false;
    }
    for (const Square pawn : pawns_at(net, net.checker)) {
        if (net.guarded_man(pawn)) {
            return true;
        }
    }
    return false;
}

/// Between the king and the corner he castled to, held by a bishop that is not near.
bool mayet(const MateNet& net) {
    const int king = board::file_of(net.king);
    const bool wing = king <= 2 || king >= 5;
    const bool corner_side = king >= 5 ? net.files_away() == 1 : net.files_away() == -1;
    if (!king_at_home(net) || !net.heavy() || !beside_king_on_rank(net) || !wing || !corner_side) {
        return false;
    }
    for (const Square bishop : net.ours(Role::bishop)) {
        if (net.guarded_by(Bitboard(bishop)).contains(net.checker) &&
            board::distance(bishop, net.checker) > 2) {
            return true;
        }
    }
    return false;
}

bool blackburne(const MateNet& net) {
    const bool knight = (net.ours(Role::knight) & board::knight_attacks(net.checker)).any();
    const Bitboard other = net.ours(Role::bishop) & ~Bitboard(net.checker);
    return net.role == Role::bishop && next_to_king(net) && knight &&
           (net.guarded_by(other) & left_open(net)).any();
}

/// A queen one rank before the king, guarded by a pawn on the rank before that.
bool pawn_holds_queen(const MateNet& net, int files_away) {
    const int forward = net.us == board::Color::white ? -1 : 1; // from the defender's first rank
    return king_at_home(net) && net.role == Role::queen && net.ranks_away() == forward &&
           std::abs(net.files_away()) == files_away && pawns_at(net, net.checker).any();
}

bool pillsbury(const MateNet& net) {
    const int file = board::file_of(net.king);
    if (!king_at_home(net) || (file != 1 && file != 6) || !net.heavy() || net.files_away() != 0 ||
        net.blocked.empty()) {
        return false;
    }
    const Square corner = board::square_at(file == 1 ? 0 : 7, board::rank_of(net.king));
    return !net.blocked.contains(corner) && net.guarded_by(net.ours(Role::bishop)).contains(corner);
}

bool morphy(const MateNet& net) {
    if (!king_in_corner(net) || net.role != Role::bishop || net.blocked.empty()) {
        return false;
    }
    const int file = board::file_of(net.king) == 0 ? 1 : 6;
    const Bitboard rooks = net.ours(Role::rook) & board::file_bits(file);
    return (net.guarded_by(rooks) & left_open(net) & board::file_bits(file)).any();
}

bool suffocation(const MateNet& net) {
    const Bitboard open = left_open(net);
    if (net.role != Role::knight || open.empty() || net.blocked.empty()) {
        return false;
    }
    for (const Square bishop : net.ours(Role::bishop)) {
        if ((open & ~net.guarded_by(Bitboard(bishop))).empty()) {
            return true;
        }
    }
    return false;
}

bool two_on_the_seventh(const MateNet& net) {
    const Bitboard seventh = board::rank_bits(net.us == board::Color::white ? 6 : 1);
    const Bitboard others = net.ours(Role::rook) & seventh & ~Bitboard(net.checker);
    return king_at_home(net) && net.role == Role::rook && seventh.contains(net.checker) &&
           next_to_king(net) && net.guarded_by(others).contains(net.checker);
}

} // namespace

void detect_further_mates(const Study& study, Found& found) {
    const auto net = mate_net(study);
    if (!net) {
        return;
    }
    const std::array pictures{
        std::pair(std::string_view("anderssen-mate"), anderssen(*net)),
        std::pair(std::string_view("blackburne-mate"), blackburne(*net)),
        std::pair(std::string_view("damiano-mate"), pawn_holds_queen(*net, 1)),
        std::pair(std::string_view("lolli-mate"), pawn_holds_queen(*net, 0)),
        std::pair(std::string_view("mayet-mate"), mayet(*net)),
        std::pair(std::string_view("morphy-mate"), morphy(*net)),
        std::pair(std::string_view("pillsbury-mate"), pillsbury(*net)),
        std::pair(std::string_view("suffocation-mate"), suffocation(*net)),
        std::pair(std::string_view("two-rooks-on-the-seventh"), two_on_the_seventh(*net)),
    };
    for (const auto& [motif, holds] : pictures) {
        if (holds) {
            report_mate(study, *net, motif, Level::decisive, found);
        }
    }
}

} // namespace motif
