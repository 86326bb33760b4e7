#include "board/position.hpp"

#include "board/zobrist.hpp"

#include <algorithm>

namespace board {

namespace {

/// Rights that are lost when a man leaves or enters a square.
constexpr std::array<std::uint8_t, 64> make_rights_lost() {
    std::array<std::uint8_t, 64> lost{};
    for (const Color color : {Color::white, Color::black}) {
        const std::size_t rank = color == Color::white ? 0 : 56;
        lost[rank] = CastlingRights::bit(color, CastlingSide::queen);
        lost[rank + 7] = CastlingRights::bit(color, CastlingSide::king);
        lost[rank + 4] = static_cast<std::uint8_t>(lost[rank] | lost[rank + 7]);
    }
    return lost;
}
constexpr auto rights_lost = make_rights_lost();

constexpr std::uint8_t man(Color color, Role role) {
    return static_cast<std::uint8_t>(index(role) + 8 * index(color));
}

struct RookPath {
    Square from;
    Square to;
};

constexpr RookPath castling_rook(Square king_to) {
    const int rank = rank_of(king_to);
    return file_of(king_to) == 6 ? RookPath{square_at(7, rank), square_at(5, rank)}
                                 : RookPath{square_at(0, rank), square_at(3, rank)};
}

} // namespace

Position::Position() : Position(Empty{}) {
    constexpr std::array<Role, 8> officers{Role::rook, Role::knight, Role::bishop, Role::queen,
                                           Role::king, Role::bishop, Role::knight, Role::rook};
    for (int file = 0; file < 8; ++file) {
        const Role officer = officers[static_cast<std::size_t>(file)];
        put(square_at(file, 0), man(Color::white, officer));
        put(square_at(file, 1), man(Color::white, Role::pawn));
        put(square_at(file, 6), man(Color::black, Role::pawn));
        put(square_at(file, 7), man(Color::black, officer));
    }
    m_castling = CastlingRights::from_bits(15);
    m_hash = hash_from_scratch();
}

Result<Position, SetupFaults> Position::from(const Setup& setup) {
    const SetupFaults faults = faults_of(setup);
    if (!faults.empty()) {
        return failure(faults);
    }
    Position position{Empty{}};
    for (const Square square : setup.occupied()) {
        const std::optional<Piece> piece = setup.at(square);
        if (piece) {
            position.put(square, man(piece->color, piece->role));
        }
    }
    constexpr int most = 65535;
    position.m_turn = setup.turn;
    position.m_castling = setup.castling;
    position.m_halfmoves = std::clamp(setup.halfmoves, 0, most);
    position.m_fullmove = std::clamp(setup.fullmove, 1, most);
    position.find_checkers_and_pinned();
    if (setup.en_passant && position.any_en_passant_is_legal(*setup.en_passant)) {
        position.m_en_passant = static_cast<std::int8_t>(index(*setup.en_passant));
    }
    position.m_hash = position.hash_from_scratch();
    return position;
}

Setup Position::setup() const {
    Setup setup;
    setup.by_color = m_by_color;
    setup.by_role = m_by_role;
    setup.turn = m_turn;
    setup.castling = m_castling;
    setup.en_passant = en_passant();
    setup.halfmoves = m_halfmoves;
    setup.fullmove = m_fullmove;
    return setup;
}

void Position::put(Square square, std::uint8_t who) {
    m_squares[on(square)] = who;
    m_by_color[who >> 3] ^= square;
    m_by_role[who & 7] ^= square;
    m_hash ^= zobrist::keys.men[who][on(square)];
}

void Position::take(Square square) {
    const std::uint8_t who = m_squares[on(square)];
    m_squares[on(square)] = nobody;
    m_by_color[who >> 3] ^= square;
    m_by_role[who & 7] ^= square;
    m_hash ^= zobrist::keys.men[who][on(square)];
}

Hash Position::hash_from_scratch() const {
    Hash hash = zobrist::keys.castling[m_castling.bits()];
    for (const Square square : occupied()) {
        hash ^= zobrist::keys.men[m_squares[on(square)]][on(square)];
    }
    if (m_en_passant >= 0) {
        hash ^= zobrist::keys.en_passant[static_cast<std::size_t>(m_en_passant & 7)];
    }
    return m_turn == Color::black ? hash ^ zobrist::keys.black_to_move : hash;
}

void Position::find_checkers_and_pinned() {
    const Square own_king = king(m_turn);
    const Bitboard everyone = occupied();
    const Bitboard them = pieces(!m_turn);
    m_checkers = ((pawn_attacks(m_turn, own_king) & pieces(Role::pawn)) |
                  (knight_attacks(own_king) & pieces(Role::knight))) &
                 them;
    m_pinned = Bitboard();
    const Bitboard queens = pieces(Role::queen);
    const detail::Lines& lines = detail::lines[on(own_king)];
    const Bitboard snipers = (((lines.rank | lines.file) & (pieces(Role::rook) | queens)) |
                              ((lines.diagonal | lines.anti_diagonal) & (pieces(Role::bishop) | queens))) &
                             them;
    for (const Square sniper : snipers) {
        const Bitboard blockers = between(own_king, sniper) & everyone;
        if (blockers.empty()) {
            m_checkers |= sniper;
        } else if (!blockers.many()) {
            m_pinned |= blockers;
        }
    }
    m_pinned &= pieces(m_turn);
}

Bitboard Position::pinned(Color color) const {
    if (color == m_turn) {
        return m_pinned;
    }
    Position other = *this;
    other.m_turn = color;
    other.find_checkers_and_pinned();
    return other.m_pinned;
}

bool Position::en_passant_is_legal(Square from, Square target) const {
    const Bitboard taken = square_at(file_of(target), rank_of(from));
    const Bitboard everyone = (occupied() ^ from ^ taken) | target;
    return (attackers(king(m_turn), !m_turn, everyone) & ~taken).empty();
}

bool Position::any_en_passant_is_legal(Square target) const {
    for (const Square from : pawn_attacks(!m_turn, target) & pieces(m_turn, Role::pawn)) {
        if (en_passant_is_legal(from, target)) {
            return true;
        }
    }
    return false;
}

template <Color us> Position::Undo Position::make_as(Move move) {
    const Square from = move.from();
    const Square to = move.to();
    const std::uint8_t mover = m_squares[on(from)];
    Undo undo{m_hash, m_checkers, m_pinned, m_halfmoves, m_castling, m_en_passant, m_squares[on(to)]};

    m_hash ^= zobrist::keys.black_to_move;
    if (m_en_passant >= 0) {
        m_hash ^= zobrist::keys.en_passant[static_cast<std::size_t>(m_en_passant & 7)];
        m_en_passant = -1;
    }
    ++m_halfmoves;
    m_fullmove += us == Color::black;
    if (undo.captured != nobody) {
        take(to);
        m_halfmoves = 0;
    }
    take(from);
    put(to, move.is_promotion() ? man(us, move.promotes_to()) : mover);
    if (const int lost = m_castling.bits() & (rights_lost[on(from)] | rights_lost[on(to)]); lost != 0) {
        m_hash ^= zobrist::keys.castling[m_castling.bits()];
        m_castling = CastlingRights::from_bits(static_cast<std::uint8_t>(m_castling.bits() ^ lost));
        m_hash ^= zobrist::keys.castling[m_castling.bits()];
    }
    if (move.kind() == MoveKind::castling) {
        const RookPath rook = castling_rook(to);
        take(rook.from);
        put(rook.to, man(us, Role::rook));
    }
    m_turn = !us;
    if (role_of(mover) == Role::pawn) {
        m_halfmoves = 0;
        if (move.kind() == MoveKind::en_passant) {
            take(square_at(file_of(to), rank_of(from)));
        } else if ((index(from) ^ index(to)) == 16) {
            const Square target = square_at((index(from) + index(to)) / 2);
            if ((pawn_attacks(us, target) & pieces(!us, Role::pawn)).any() &&
                any_en_passant_is_legal(target)) {
                m_en_passant = static_cast<std::int8_t>(index(target));
                m_hash ^= zobrist::keys.en_passant[static_cast<std::size_t>(file_of(target))];
            }
        }
    }
    find_checkers_and_pinned();
    return undo;
}

template <Color us> void Position::unmake_as(Move move, const Undo& undo) {
    const Square from = move.from();
    const Square to = move.to();
    const std::uint8_t mover = move.is_promotion() ? man(us, Role::pawn) : m_squares[on(to)];
    take(to);
    put(from, mover);
    if (undo.captured != nobody) {
        put(to, undo.captured);
    }
    if (move.kind() == MoveKind::castling) {
        const RookPath rook = castling_rook(to);
        take(rook.to);
        put(rook.from, man(us, Role::rook));
    } else if (move.kind() == MoveKind::en_passant) {
        put(square_at(file_of(to), rank_of(from)), man(!us, Role::pawn));
    }
    m_turn = us;
    m_fullmove -= us == Color::black;
    m_halfmoves = undo.halfmoves;
    m_castling = undo.castling;
    m_en_passant = undo.en_passant;
    m_checkers = undo.checkers;
    m_pinned = undo.pinned;
    m_hash = undo.hash;
}

Position::Undo Position::make(Move move) {
    return m_turn == Color::white ? make_as<Color::white>(move) : make_as<Color::black>(move);
}

void Position::unmake(Move move, const Undo& undo) {
    m_turn == Color::black ? unmake_as<Color::white>(move, undo) : unmake_as<Color::black>(move, undo);
}

std::optional<Position> Position::passed() const {
    if (in_check()) {
        return std::nullopt;
    }
    Position next = *this;
    next.m_turn = !m_turn;
    next.m_en_passant = -1;
    next.m_halfmoves += 1;
    next.m_fullmove += m_turn == Color::black;
    next.m_hash = next.hash_from_scratch();
    next.find_checkers_and_pinned();
    return next;
}

bool Position::is_dead() const {
    const Bitboard bishops = pieces(Role::bishop);
    const Bitboard minors = bishops | pieces(Role::knight);
    if ((occupied() ^ minors ^ pieces(Role::king)).any()) {
        return false;
    }
    return !minors.many() || (minors == bishops &&
                              ((bishops & light_squares) == bishops || (bishops & dark_squares) == bishops));
}

bool Position::gives_check(Move move) const {
    const Square target = king(!m_turn);
    const Square from = move.from();
    const Square to = move.to();
    Bitboard everyone = (occupied() ^ from) | to;
    if (move.kind() == MoveKind::en_passant) {
        everyone ^= square_at(file_of(to), rank_of(from));
    } else if (move.kind() == MoveKind::castling) {
        const RookPath rook = castling_rook(to);
        everyone = (everyone ^ rook.from) | rook.to;
        return rook_attacks(rook.to, everyone).contains(target);
    }
    const Role role = move.is_promotion() ? move.promotes_to() : role_of(m_squares[on(from)]);
    if (attacks({m_turn, role}, to, everyone).contains(target)) {
        return true;
    }
    const Bitboard queens = pieces(Role::queen);
    const Bitboard others = pieces(m_turn) & ~Bitboard(from);
    return (bishop_attacks(target, everyone) & (pieces(Role::bishop) | queens) & others).any() ||
           (rook_attacks(target, everyone) & (pieces(Role::rook) | queens) & others).any();
}

} // namespace board
