#include "motif/geometry.hpp"

#include "solve/solver.hpp"

#include <fmt/format.h>

namespace motif {

using board::Bitboard;
using board::Position;
using board::Role;
using board::Square;

namespace {

std::optional<Position> playable(const board::Setup& setup) {
    const auto made = Position::from(board::without_field_faults(setup));
    if (!made) {
        return std::nullopt;
    }
    return *made;
}

int step(int from, int to) {
    return (to > from) - (to < from);
}

} // namespace

Bitboard attacks_from(const Position& position, Square from, Bitboard lifted) {
    const auto piece = position.at(from);
    return piece ? board::attacks(*piece, from, position.occupied() & ~lifted) : Bitboard();
}

std::optional<Square> behind(const Position& position, Square from, Square front) {
    const int files = step(board::file_of(from), board::file_of(front));
    const int ranks = step(board::rank_of(from), board::rank_of(front));
    int file = board::file_of(front) + files;
    int rank = board::rank_of(front) + ranks;
    for (; file >= 0 && file < 8 && rank >= 0 && rank < 8; file += files, rank += ranks) {
        const Square square = board::square_at(file, rank);
        if (position.occupied().contains(square)) {
            return square;
        }
    }
    return std::nullopt;
}

std::optional<Square> pinner_of(const Position& position, Square pinned) {
    const auto piece = position.at(pinned);
    if (!piece || !position.pinned(piece->color).contains(pinned)) {
        return std::nullopt;
    }
    const Square king = position.king(piece->color);
    const auto beyond = behind(position, king, pinned);
    return beyond && line_men(position, !piece->color).contains(*beyond) ? beyond : std::nullopt;
}

Bitboard line_men(const Position& position, board::Color color) {
    return position.pieces(color, Role::bishop) | position.pieces(color, Role::rook) |
           position.pieces(color, Role::queen);
}

Square square_taken(board::Move move) {
    if (move.kind() != board::MoveKind::en_passant) {
        return move.to();
    }
    return board::square_at(board::file_of(move.to()), board::rank_of(move.from()));
}

std::optional<Position> without(const Position& position, Square square) {
    board::Setup setup = position.setup();
    setup.remove(square);
    return playable(setup);
}

std::optional<Position> relocated(const Position& position, Square from, Square to) {
    const auto piece = position.at(from);
    if (!piece) {
        return std::nullopt;
    }
    board::Setup setup = position.setup();
    setup.remove(from);
    setup.remove(to);
    setup.put(to, *piece);
    return playable(setup);
}

bool is_passed(const Position& position, Square pawn, board::Color color) {
    for (const Square enemy : position.pieces(!color, Role::pawn)) {
        const int files = board::file_of(enemy) - board::file_of(pawn);
        const bool ahead = board::relative_rank(color, enemy) > board::relative_rank(color, pawn);
        if (ahead && files >= -1 && files <= 1) {
            return false;
        }
    }
    return true;
}

bool same_placement(const Position& a, const Position& b) {
    if (a.occupied() != b.occupied()) {
        return false;
    }
    for (const Square square : a.occupied()) {
        if (a.at(square) != b.at(square)) {
            return false;
        }
    }
    return true;
}

int worth_of(const Position& position, Square square) {
    const auto piece = position.at(square);
    return piece ? board::value_of(piece->role) : 0;
}

int loss_on(const Position& position, Square square) {
    const auto piece = position.at(square);
    return piece && piece->role != Role::king ? solve::exchange_gain(position, square, !piece->color) : 0;
}

bool could_escape(const Position& position, Square square) {
    const auto piece = position.at(square);
    if (!piece) {
        return false;
    }
    for (const Square exit : attacks_from(position, square) & ~position.pieces(piece->color)) {
        const int taken = worth_of(position, exit);
        auto moved = relocated(position, square, exit);
        if (!moved) { // a move that gives check: let the other side be to move
            board::Setup setup = position.setup();
            setup.remove(square);
            setup.remove(exit);
            setup.put(exit, *piece);
            setup.turn = !piece->color;
            moved = playable(setup);
        }
        if (moved && loss_on(*moved, exit) <= taken) {
            return true;
        }
    }
    return false;
}

std::string man(const Position& position, Square square) {
    const auto piece = position.at(square);
    return piece ? fmt::format("{} on {}", board::name(piece->role), board::name(square))
                 : board::name(square);
}

} // namespace motif
