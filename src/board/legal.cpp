#include "board/generator.hpp"

namespace board {

namespace {

template <Wanted wanted, detail::Check check = detail::Check::heeded, class Sink>
void generate(const Position& position, Sink& sink) {
    if (position.turn() == Color::white) {
        Generator<Color::white, check>(position).template run<wanted>(sink);
    } else {
        Generator<Color::black, check>(position).template run<wanted>(sink);
    }
}

} // namespace

MoveList Position::legal_moves() const {
    MoveList list;
    ListSink sink(list);
    generate<Wanted::all>(*this, sink);
    return list;
}

MoveList Position::legal_captures() const {
    MoveList list;
    ListSink sink(list);
    generate<Wanted::captures>(*this, sink);
    return list;
}

MoveList Position::moves_ignoring_check() const {
    MoveList list;
    ListSink sink(list);
    generate<Wanted::all, detail::Check::ignored>(*this, sink);
    return list;
}

std::size_t Position::count_legal_moves() const {
    CountSink sink;
    generate<Wanted::all>(*this, sink);
    return sink.count();
}

bool Position::has_legal_move() const {
    AnySink sink;
    generate<Wanted::all>(*this, sink);
    return sink.full();
}

bool Position::pawn_could_go(Move move) const {
    const Square from = move.from();
    const Square to = move.to();
    if (move.is_promotion() != (relative_rank(m_turn, to) == 7)) {
        return false;
    }
    if (file_of(from) != file_of(to)) {
        return pawn_attacks(m_turn, from).contains(to) && pieces(!m_turn).contains(to);
    }
    const int steps = (index(to) - index(from)) * (m_turn == Color::white ? 1 : -1);
    const bool far = steps == 16 && relative_rank(m_turn, from) == 1;
    return (steps == 8 || far) && ((between(from, to) | to) & occupied()).empty();
}

bool Position::is_legal(Move move) const {
    const Square from = move.from();
    const Square to = move.to();
    if (move.kind() == MoveKind::castling) {
        return legal_moves().contains(move);
    }
    if (!pieces(m_turn).contains(from) || pieces(m_turn).contains(to)) {
        return false;
    }
    const Role role = role_of(m_squares[on(from)]);
    if (move.kind() == MoveKind::en_passant) {
        return move == Move::en_passant(from, to) && role == Role::pawn && m_en_passant == index(to) &&
               pawn_attacks(m_turn, from).contains(to) && en_passant_is_legal(from, to);
    }
    if (!move.is_promotion() && move != Move::normal(from, to)) {
        return false; // stray bits where a promotion keeps its role
    }
    if (role == Role::pawn) {
        if (!pawn_could_go(move)) {
            return false;
        }
    } else if (move.is_promotion() || !attacks({m_turn, role}, from, occupied()).contains(to)) {
        return false;
    }
    if (role == Role::king) {
        return attackers(to, !m_turn, occupied() ^ from).empty();
    }
    if (m_checkers.any() &&
        (m_checkers.many() || !(m_checkers | between(king(m_turn), m_checkers.first())).contains(to))) {
        return false;
    }
    return !m_pinned.contains(from) || line_through(king(m_turn), from).contains(to);
}

} // namespace board
