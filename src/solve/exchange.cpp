#include "solve/exchange.hpp"

#include "solve/solver.hpp"

#include <algorithm>
#include <array>

namespace solve {
namespace {

using board::Bitboard;
using board::Color;
using board::Position;
using board::Role;
using board::Square;

constexpr int queening_gain = 8;  // a pawn becomes a queen
constexpr int king_at_risk = 100; // more than all men together: a king is never given

/// Would leaving `from` for `target` open a line to the mover's own king?
bool exposes_king(const Position& position, Square from, Square target, Color side, Bitboard occupied) {
    const Square king = position.king(side);
    if (from == king || board::line_through(king, from).empty()) {
        return false;
    }
    const Bitboard after = (occupied ^ Bitboard(from)) | Bitboard(target);
    const Bitboard theirs = position.pieces(!side) & after & ~Bitboard(target);
    const Bitboard queens = position.pieces(Role::queen);
    return (board::rook_attacks(king, after) & theirs & (position.pieces(Role::rook) | queens)).any() ||
           (board::bishop_attacks(king, after) & theirs & (position.pieces(Role::bishop) | queens)).any();
}

struct Taker {
    Square from;
    Role role;
};

std::optional<Taker> cheapest(const Position& position, Square target, Color side, Bitboard occupied) {
    const Bitboard takers = position.attackers(target, side, occupied) & occupied;
    if (takers.empty()) {
        return std::nullopt;
    }
    for (const Role role : board::all_roles) {
        for (const Square from : takers& position.pieces(side, role)) {
            if (role == Role::king && (position.attackers(target, !side, occupied) & occupied).any()) {
                continue;
            }
            if (!exposes_king(position, from, target, side, occupied)) {
                return Taker{from, role};
            }
        }
    }
    return std::nullopt;
}

/// What `side` wins at best by taking a man worth `standing` on `target`; it may decline.
int best_gain(const Position& position, Square target, Color side, Bitboard occupied, int standing) {
    std::array<int, 32> gains{};
    std::size_t count = 0;
    const bool last_rank = board::rank_of(target) == 0 || board::rank_of(target) == 7;
    while (count < gains.size()) {
        const auto taker = cheapest(position, target, side, occupied);
        if (!taker) {
            break;
        }
        const bool queens = taker->role == Role::pawn && last_rank;
        gains[count++] = standing + (queens ? queening_gain : 0);
        standing = queens ? board::value_of(Role::queen)
                          : (taker->role == Role::king ? king_at_risk : board::value_of(taker->role));
        occupied ^= Bitboard(taker->from);
        side = !side;
    }
    int gain = 0;
    while (count > 0) {
        gain = std::max(0, gains[--count] - gain);
    }
    return gain;
}

} // namespace

int exchange_value(const Position& position, board::Move move) {
    if (move.kind() == board::MoveKind::castling) {
        return 0;
    }
    const Color side = position.turn();
    const auto mover = position.at(move.from());
    const auto taken = position.captured(move);
    int gain = taken ? board::value_of(*taken) : 0;
    int standing = mover->role == Role::king ? king_at_risk : board::value_of(mover->role);
    if (move.is_promotion()) {
        standing = board::value_of(move.promotes_to());
        gain += standing - 1;
    }
    Bitboard occupied = (position.occupied() ^ Bitboard(move.from())) | Bitboard(move.to());
    if (move.kind() == board::MoveKind::en_passant) {
        occupied ^= Bitboard(board::square_at(board::file_of(move.to()), board::rank_of(move.from())));
    }
    return gain - best_gain(position, move.to(), !side, occupied, standing);
}

int exchange_gain(const Position& position, Square square, Color side) {
    const auto target = position.at(square);
    if (!target || target->color == side || target->role == Role::king) {
        return 0;
    }
    return best_gain(position, square, side, position.occupied(), board::value_of(target->role));
}

int balance(const Position& position, Color side) {
    int sum = 0;
    for (const Role role : board::all_roles) {
        sum += board::value_of(role) *
               (position.pieces(side, role).count() - position.pieces(!side, role).count());
    }
    return sum;
}

} // namespace solve
