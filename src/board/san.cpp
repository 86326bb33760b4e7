#include "board/san.hpp"

#include <algorithm>
#include <iterator>

namespace board {

namespace {

bool fits(const Position& position, const San& san, Move move) {
    const bool castling = move.kind() == MoveKind::castling;
    if (san.castling || castling) {
        return castling && san.castling && (file_of(move.to()) == 6) == (*san.castling == CastlingSide::king);
    }
    return position.at(move.from())->role == san.role && move.to() == san.to &&
           file_of(move.from()) == san.from_file.value_or(file_of(move.from())) &&
           rank_of(move.from()) == san.from_rank.value_or(rank_of(move.from())) &&
           (!san.promotion || (move.is_promotion() && move.promotes_to() == *san.promotion));
}

std::vector<Move> those_that_fit(const Position& position, const San& san, const MoveList& moves) {
    std::vector<Move> found;
    std::copy_if(moves.begin(), moves.end(), std::back_inserter(found),
                 [&](Move move) { return fits(position, san, move); });
    return found;
}

/// The commonest case, a man of one sort to one square, looked up from that square; nothing when it is not so
/// plain.
std::optional<Move> resolve_plain(const Position& position, const San& san) {
    if (!san.to || san.castling || san.null || san.promotion || san.role == Role::pawn) {
        return std::nullopt;
    }
    Bitboard men = attacks({position.turn(), san.role}, *san.to, position.occupied()) &
                   position.pieces(position.turn(), san.role);
    men &= san.from_file ? file_bits(*san.from_file) : ~Bitboard();
    men &= san.from_rank ? rank_bits(*san.from_rank) : ~Bitboard();
    std::optional<Move> found;
    for (const Square from : men) {
        const Move move = Move::normal(from, *san.to);
        if (position.is_legal(move)) {
            if (found) {
                return std::nullopt;
            }
            found = move;
        }
    }
    return found;
}

/// What must stand before the target square so that no other legal move is spelt alike.
std::string disambiguation(const Position& position, Role role, Move move) {
    const Bitboard rivals = attacks({position.turn(), role}, move.to(), position.occupied()) &
                            position.pieces(position.turn(), role) & ~Bitboard(move.from());
    bool alike = false;
    bool same_file = false;
    bool same_rank = false;
    for (const Square rival : rivals) {
        if (position.is_legal(Move::normal(rival, move.to()))) {
            alike = true;
            same_file |= file_of(rival) == file_of(move.from());
            same_rank |= rank_of(rival) == rank_of(move.from());
        }
    }
    if (!alike) {
        return "";
    }
    const std::string square = name(move.from());
    return !same_file ? square.substr(0, 1) : !same_rank ? square.substr(1) : square;
}

std::string without_check_sign(const Position& position, Move move) {
    if (move.kind() == MoveKind::castling) {
        return file_of(move.to()) == 6 ? "O-O" : "O-O-O";
    }
    const Role role = position.at(move.from())->role;
    const bool capture = position.is_capture(move);
    std::string text;
    if (role != Role::pawn) {
        text = letter({Color::white, role}) + disambiguation(position, role, move);
    } else if (capture) {
        text = name(move.from()).substr(0, 1);
    }
    text += capture ? "x" : "";
    text += name(move.to());
    if (move.is_promotion()) {
        text += '=';
        text += letter({Color::white, move.promotes_to()});
    }
    return text;
}

} // namespace

Result<Move, SanFailure> resolve(const Position& position, const San& san) {
    if (const std::optional<Move> plain = resolve_plain(position, san)) {
        return *plain;
    }
    if (san.null) {
        return failure(SanFailure{SanFault::illegal, {}});
    }
    std::vector<Move> found = those_that_fit(position, san, position.legal_moves());
    if (found.size() == 1) {
        return found.front();
    }
    if (found.empty()) {
        // As if the king of the side to move could not be attacked: every man may do what his move allows.
        return failure(
            SanFailure{SanFault::illegal, those_that_fit(position, san, position.moves_ignoring_check())});
    }
    return failure(SanFailure{SanFault::ambiguous, std::move(found)});
}

std::optional<Move> read_coordinate(const Position& position, std::string_view text) {
    if (text.size() < 4 || text.size() > 7) {
        return std::nullopt;
    }
    const std::optional<Square> from = read_square(text.substr(0, 2));
    text.remove_prefix(text[2] == '-' ? 3 : 2);
    const std::optional<Square> to = read_square(text.substr(0, 2));
    if (!from || !to) {
        return std::nullopt;
    }
    text.remove_prefix(2);
    if (text.size() == 2 && text[0] == '=') {
        text.remove_prefix(1);
    }
    const std::optional<Piece> promotion = text.size() == 1 ? read_piece(text[0]) : std::nullopt;
    if (!text.empty() && !promotion) {
        return std::nullopt;
    }
    const MoveList moves = position.legal_moves();
    if (position.home().is_shuffled()) { // there castling is written as the king taking his rook
        for (const Move move : moves) {
            const CastlingSide side = file_of(move.to()) == 6 ? CastlingSide::king : CastlingSide::queen;
            if (move.kind() == MoveKind::castling && move.from() == *from &&
                *to == position.home().rook(position.turn(), side)) {
                return move;
            }
        }
    }
    for (const Move move : moves) {
        if (move.from() == *from && move.to() == *to && move.is_promotion() == promotion.has_value() &&
            (!promotion || move.promotes_to() == promotion->role)) {
            return move;
        }
    }
    return std::nullopt;
}

std::string write_san(const Position& position, Move move) {
    const Position next = position.after(move);
    std::string text = without_check_sign(position, move);
    if (next.in_check()) {
        text += next.has_legal_move() ? "+" : "#";
    }
    return text;
}

std::string write_line(const Position& position, std::span<const Move> line) {
    Position current = position;
    std::string text;
    for (const Move move : line) {
        if (!current.is_legal(move)) {
            break;
        }
        const bool first = text.empty();
        text += first ? "" : " ";
        if (current.turn() == Color::white || first) {
            text += std::to_string(current.fullmove()) + (current.turn() == Color::white ? "." : "...");
        }
        text += write_san(current, move);
        current.make(move);
    }
    return text;
}

} // namespace board
