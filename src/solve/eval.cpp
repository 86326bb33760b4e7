#include "solve/eval.hpp"

#include <algorithm>
#include <array>

namespace solve {
namespace {

using board::Bitboard;
using board::Color;
using board::Position;
using board::Role;
using board::Square;

// All terms in hundredths of a pawn. Material is whole pawns; every other term is kept so small that together
// they rarely outweigh one pawn, because what a puzzle wins is counted in men.

constexpr int to_move = 10; // having the move: about a tenth of a pawn

// A man that commands squares works; one that commands none is half lost. Per square commanded, less what is
// usual.
constexpr std::array<int, 6> per_square{0, 4, 3, 2, 1, 0};
constexpr std::array<int, 6> usual_squares{0, 4, 6, 7, 13, 0};
constexpr int shut_in = 25; // a minor piece or rook with no square free of pawns' attacks

// A passed pawn by its rank as its owner counts: worth more the nearer it is, most of it once only the
// queening is left.
constexpr std::array<int, 8> passed_by_rank{0, 5, 10, 20, 40, 70, 120, 0};
constexpr int step_of_kings = 6; // passed pawn past the middle: a step nearer to it than the other king
constexpr int runs_home =
    550;                   // passed pawn that a lone king cannot catch: a queen less the moves it still takes
constexpr int doubled = 8; // second pawn on a file defends nothing new
constexpr int isolated = 8; // pawn without a neighbour to defend it

// Squares about a king that enemy men attack; counts double from the second man on, for one man alone mates
// nobody.
constexpr int exposed_square = 5;
constexpr int exposed_most = 150;
constexpr int open_file_at_king =
    12; // file of the king without own pawn while enemy rooks or queens are left

constexpr int king_to_centre = 4; // a step towards the centre once the heavy men are gone

int sign(Color color) {
    return color == Color::white ? 1 : -1;
}

Bitboard pawn_reach(const Position& position, Color color) {
    const std::uint64_t pawns = position.pieces(color, Role::pawn).bits();
    const std::uint64_t left = pawns & ~board::file_bits(0).bits();
    const std::uint64_t right = pawns & ~board::file_bits(7).bits();
    return Bitboard(color == Color::white ? (left << 7) | (right << 9) : (left >> 9) | (right >> 7));
}

/// Ranks in front of `square` as `color` goes.
Bitboard ranks_ahead(Color color, Square square) {
    const int rank = board::rank_of(square);
    if (color == Color::white) {
        return rank == 7 ? Bitboard() : Bitboard(~std::uint64_t{0} << (8 * (rank + 1)));
    }
    return rank == 0 ? Bitboard() : Bitboard(~std::uint64_t{0} >> (8 * (8 - rank)));
}

Bitboard near_files(int file) {
    Bitboard files = board::file_bits(file);
    if (file > 0) {
        files |= board::file_bits(file - 1);
    }
    if (file < 7) {
        files |= board::file_bits(file + 1);
    }
    return files;
}

int officers_value(const Position& position, Color side) {
    return 3 * (position.pieces(side, Role::knight) | position.pieces(side, Role::bishop)).count() +
           5 * position.pieces(side, Role::rook).count() + 9 * position.pieces(side, Role::queen).count();
}

/// Men of one side: material, squares commanded, and how many squares about the enemy king they attack.
int men(const Position& position, Color side) {
    const Bitboard occupied = position.occupied();
    const Bitboard free = ~(position.pieces(side) | pawn_reach(position, !side));
    const Bitboard about_king = board::king_attacks(position.king(!side));
    int score = 100 * position.pieces(side, Role::pawn).count();
    int attackers = 0;
    int attacked = 0;
    for (const Role role : {Role::knight, Role::bishop, Role::rook, Role::queen}) {
        for (const Square square : position.pieces(side, role)) {
            const Bitboard reach = board::attacks({side, role}, square, occupied);
            const int squares = (reach & free).count();
            const std::size_t r = index(role);
            score += 100 * board::value_of(role) + per_square[r] * (squares - usual_squares[r]);
            if (squares == 0 && role != Role::queen) {
                score -= shut_in;
            }
            if ((reach & about_king).any()) {
                ++attackers;
                attacked += (reach & about_king).count();
            }
        }
    }
    if (position.pieces(side, Role::queen).any()) {
        score += std::min(exposed_most, exposed_square * attacked * (attackers > 1 ? 2 : 1));
    }
    return score;
}

/// Can the king of `defender`, its side's only man besides pawns, no longer catch the pawn?
bool outruns(const Position& position, Square pawn, Color owner) {
    const Square goal = board::square_at(board::file_of(pawn), owner == Color::white ? 7 : 0);
    const Bitboard path = board::between(pawn, goal) | Bitboard(goal);
    if ((path & position.occupied()).any()) {
        return false;
    }
    const int steps = std::min(7 - board::relative_rank(owner, pawn), 5); // the double step from home
    const int tempo = position.turn() == owner ? 0 : 1;
    return board::distance(position.king(!owner), goal) - tempo > steps;
}

int passed_pawn(const Position& position, Square pawn, Color side) {
    const int rank = board::relative_rank(side, pawn);
    const Square ahead = board::square_at(board::index(pawn) + 8 * sign(side));
    int score = passed_by_rank[static_cast<std::size_t>(rank)];
    if (position.occupied().contains(ahead)) {
        score /= 2;
    }
    if (officers_value(position, !side) <= 5) { // kings matter when at most a rook is left to stop it
        score += rank >= 3 ? step_of_kings * (board::distance(position.king(!side), ahead) -
                                              board::distance(position.king(side), ahead))
                           : 0;
    }
    return score;
}

int pawns(const Position& position, Color side) {
    const Bitboard own = position.pieces(side, Role::pawn);
    const Bitboard theirs = position.pieces(!side, Role::pawn);
    int score = 0;
    int fastest = 99;
    for (const Square pawn : own) {
        const int file = board::file_of(pawn);
        const Bitboard ahead = ranks_ahead(side, pawn);
        if ((own & ahead & board::file_bits(file)).any()) {
            score -= doubled;
        } else if ((theirs & ahead & near_files(file)).empty()) {
            score += passed_pawn(position, pawn, side);
            if (officers_value(position, !side) == 0 && outruns(position, pawn, side)) {
                fastest = std::min(fastest, 7 - board::relative_rank(side, pawn));
            }
        }
        if ((own & near_files(file) & ~board::file_bits(file)).empty()) {
            score -= isolated;
        }
    }
    return fastest == 99 ? score : score + runs_home - 20 * fastest;
}

int king(const Position& position, Color side) {
    const Square square = position.king(side);
    const int heavy =
        5 * position.pieces(!side, Role::rook).count() + 9 * position.pieces(!side, Role::queen).count();
    if (heavy >= 9) {
        const Bitboard shield = board::file_bits(board::file_of(square)) & ranks_ahead(side, square);
        return (shield & position.pieces(side, Role::pawn)).empty() ? -open_file_at_king : 0;
    }
    const int file = board::file_of(square);
    const int rank = board::rank_of(square);
    const int off_centre = std::max(std::max(3 - file, file - 4), std::max(3 - rank, rank - 4));
    return -king_to_centre * off_centre;
}

bool one_bishop_each_of_other_colours(const Position& position) {
    const Bitboard bishops = position.pieces(Role::bishop);
    const Bitboard others =
        position.pieces(Role::knight) | position.pieces(Role::rook) | position.pieces(Role::queen);
    return others.empty() && position.pieces(Color::white, Role::bishop).count() == 1 &&
           position.pieces(Color::black, Role::bishop).count() == 1 &&
           (bishops & board::light_squares).count() == 1;
}

/// Only pawns on one rook's file, at most bishops of the wrong colour, and the lone king at home in the
/// corner.
bool wrong_corner(const Position& position, Color strong) {
    const Bitboard own_pawns = position.pieces(strong, Role::pawn);
    const Bitboard bishops = position.pieces(strong, Role::bishop);
    const Bitboard officers = position.pieces(strong) & ~own_pawns & ~Bitboard(position.king(strong));
    if (officers_value(position, !strong) != 0 || position.pieces(!strong, Role::pawn).any() ||
        officers != bishops) {
        return false;
    }
    const bool a_file = (own_pawns & ~board::file_bits(0)).empty();
    if (own_pawns.empty() || (!a_file && (own_pawns & ~board::file_bits(7)).any())) {
        return false;
    }
    const Square corner = board::square_at(a_file ? 0 : 7, strong == Color::white ? 7 : 0);
    const Bitboard corner_colour =
        board::light_squares.contains(corner) ? board::light_squares : board::dark_squares;
    return (bishops & corner_colour).empty() && board::distance(position.king(!strong), corner) <= 1;
}

/// What share of the value, in eighths, an advantage of `strong` is worth: material that cannot win is worth
/// nothing.
int winnable_eighths(const Position& position, Color strong) {
    if (one_bishop_each_of_other_colours(position)) {
        return 4;
    }
    if (wrong_corner(position, strong)) {
        return 0;
    }
    if (position.pieces(strong, Role::pawn).any()) {
        return 8;
    }
    const int own = officers_value(position, strong);
    const int theirs = officers_value(position, !strong);
    const Bitboard not_knights = position.pieces(strong) & ~position.pieces(strong, Role::knight);
    if (own < 5 || (own == 6 && not_knights.count() == 1)) {
        return 0; // a lone minor piece or two knights do not mate by force
    }
    return own - theirs <= 3 ? 1 : 8; // a minor piece more, without pawns, is a draw as a rule
}

} // namespace

bool has_officers(const Position& position, Color side) {
    return officers_value(position, side) > 3;
}

int evaluate(const Position& position) {
    int score = 0;
    for (const Color side : {Color::white, Color::black}) {
        score += sign(side) * (men(position, side) + pawns(position, side) + king(position, side));
    }
    if (score != 0) {
        score = score * winnable_eighths(position, score > 0 ? Color::white : Color::black) / 8;
    }
    return position.turn() == Color::white ? score + to_move : to_move - score;
}

} // namespace solve
