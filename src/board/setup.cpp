#include "board/setup.hpp"

#include "board/attacks.hpp"

namespace board {

namespace {

constexpr std::array both_sides{CastlingSide::king, CastlingSide::queen};
constexpr std::array both_colors{Color::white, Color::black};

bool right_has_its_men(const Setup& setup, Color color, CastlingSide side) {
    return setup.pieces(color, Role::king).contains(setup.home.king(color)) &&
           setup.pieces(color, Role::rook).contains(setup.home.rook(color, side));
}

bool attacked(const Setup& setup, Square square, Color by) {
    const Bitboard occupied = setup.occupied();
    for (const Role role : all_roles) {
        // A man attacks the square when the same man of the other colour would attack him from there.
        if ((attacks({!by, role}, square, occupied) & setup.pieces(by, role)).any()) {
            return true;
        }
    }
    return false;
}

bool double_step_possible(const Setup& setup) {
    const Square target = *setup.en_passant;
    if (relative_rank(setup.turn, target) != 5) {
        return false;
    }
    const int forward = setup.turn == Color::white ? 8 : -8;
    const Square start = square_at(index(target) + forward);
    const Square pawn = square_at(index(target) - forward);
    return !setup.occupied().contains(target) && !setup.occupied().contains(start) &&
           setup.pieces(!setup.turn, Role::pawn).contains(pawn);
}

} // namespace

std::optional<Piece> Setup::at(Square square) const {
    for (const Color color : both_colors) {
        for (const Role role : all_roles) {
            if (pieces(color, role).contains(square)) {
                return Piece{color, role};
            }
        }
    }
    return std::nullopt;
}

void Setup::put(Square square, Piece piece) {
    remove(square);
    by_color[index(piece.color)] |= square;
    by_role[index(piece.role)] |= square;
}

void Setup::remove(Square square) {
    for (Bitboard& men : by_color) {
        men &= ~Bitboard(square);
    }
    for (Bitboard& men : by_role) {
        men &= ~Bitboard(square);
    }
}

SetupFaults faults_of(const Setup& setup) {
    SetupFaults faults;
    const Bitboard white = setup.pieces(Color::white, Role::king);
    const Bitboard black = setup.pieces(Color::black, Role::king);
    if (white.count() != 1 || black.count() != 1) {
        faults.add(SetupFault::kings);
    }
    for (const Square king : white) {
        if ((king_attacks(king) & black).any()) {
            faults.add(SetupFault::adjacent_kings);
        }
    }
    if ((setup.by_role[index(Role::pawn)] & (rank_bits(0) | rank_bits(7))).any()) {
        faults.add(SetupFault::pawn_ranks);
    }
    for (const Square king : setup.pieces(!setup.turn, Role::king)) {
        if (attacked(setup, king, setup.turn)) {
            faults.add(SetupFault::opponent_in_check);
        }
    }
    if (without_field_faults(setup).castling != setup.castling) {
        faults.add(SetupFault::castling_rights);
    }
    if (setup.en_passant && !double_step_possible(setup)) {
        faults.add(SetupFault::en_passant);
    }
    return faults;
}

Setup without_field_faults(const Setup& setup) {
    Setup mended = setup;
    for (const Color color : both_colors) {
        for (const CastlingSide side : both_sides) {
            if (!right_has_its_men(setup, color, side)) {
                mended.castling.remove(color, side);
            }
        }
    }
    if (setup.en_passant && !double_step_possible(setup)) {
        mended.en_passant.reset();
    }
    return mended;
}

} // namespace board
