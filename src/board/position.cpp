#include "board/position.hpp"

#include "board/zobrist.hpp"

#include <algorithm>

namespace board {

namespace {

/// Rights that are lost when a man leaves or enters a square, by the array's code.
constexpr auto make_rights_lost() {
    std::array<std::array<std::uint8_t, 64>, HomeArray::codes> lost{};
    for (std::size_t code = 0; code < lost.size(); ++code) {
        const HomeArray home = HomeArray::from_code(static_cast<std::uint8_t>(code));
        for (const Color color : {Color::white, Color::black}) {
            for (const CastlingSide side : {CastlingSide::king, CastlingSide::queen}) {
                for (const Square square : {home.king(color), home.rook(color, side)}) {
                    std::uint8_t& here = lost[code][static_cast<std::size_t>(index(square))];
                    here = static_cast<std::uint8_t>(here | CastlingRights::bit(color, side));
                }
            }
        }
    }
    return lost;
}
constexpr auto rights_lost = make_rights_lost();

constexpr std::uint8_t man(Color color, Role role) {
    return static_cast<std::uint8_t>(index(role) + 8 * index(color));
}

/// The square or no square, without a branch.
constexpr Bitboard only_if(bool wanted, Square square) {
    return Bitboard(Bitboard(square).bits() & (std::uint64_t{0} - std::uint64_t{wanted}));
}

/// File, or 8 when there is no en-passant capture.
constexpr std::size_t en_passant_key(int square) {
    return square < 0 ? 8 : static_cast<std::size_t>(square & 7);
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
    for (const Color color : {Color::white, Color::black}) {
        for (const Role role : all_roles) {
            for (const Square square : setup.pieces(color, role)) {
                position.put(square, man(color, role));
            }
        }
    }
    constexpr int most = 65535;
    position.m_turn = setup.turn;
    position.m_castling = setup.castling;
    position.m_home = setup.home;
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
    setup.home = m_home;
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
    Hash hash = zobrist::keys.castling[m_castling.bits()] ^ m_home.code();
    for (const Square square : occupied()) {
        hash ^= zobrist::keys.men[m_squares[on(square)]][on(square)];
    }
    hash ^= zobrist::keys.en_passant[en_passant_key(m_en_passant)];
    return m_turn == Color::black ? hash ^ zobrist::keys.black_to_move : hash;
}

template <Color us> void Position::find_checkers_and_pinned() {
    const Square own_king = king(us);
    const Bitboard everyone = occupied();
    const Bitboard them = pieces(!us);
    m_checkers = ((pawn_attacks(us, own_king) & pieces(Role::pawn)) |
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
    m_pinned &= pieces(us);
}

void Position::find_checkers_and_pinned() {
    m_turn == Color::white ? find_checkers_and_pinned<Color::white>()
                           : find_checkers_and_pinned<Color::black>();
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

Position::Castling Position::castling_of(Move move) const {
    const int rank = rank_of(move.to());
    const bool short_side = file_of(move.to()) == 6;
    const int rook = m_home.rook_file(short_side ? CastlingSide::king : CastlingSide::queen);
    return {move.from(), move.to(), square_at(rook, rank), square_at(short_side ? 5 : 3, rank)};
}

// Making and taking back avoid branches that depend on what is captured: such branches are guessed wrong too
// often.
template <Color us> Position::Undo Position::make_as(Move move) {
    const Square from = move.from();
    const Square to = move.to();
    const bool castles = move.kind() == MoveKind::castling;
    const std::uint8_t mover = m_squares[on(from)];
    const std::uint8_t captured = castles ? nobody : m_squares[on(to)];
    const Undo undo{m_hash, m_checkers, m_pinned, m_halfmoves, m_castling, m_en_passant, captured};

    const auto& keys = zobrist::keys;
    if (castles) { // both men are lifted first: one may go to where the other stood
        const Castling men = castling_of(move);
        take(men.king_from);
        take(men.rook_from);
        put(men.king_to, man(us, Role::king));
        put(men.rook_to, man(us, Role::rook));
    } else {
        const Bitboard taken = only_if(captured != nobody, to);
        m_by_color[index(!us)] ^= taken;
        m_by_role[captured & 7] ^= taken;
        const Bitboard path = Bitboard(from) | to;
        m_by_color[index(us)] ^= path;
        m_by_role[mover & 7] ^= path;
        m_squares[on(from)] = nobody;
        m_squares[on(to)] = mover;
        m_hash ^= keys.men[mover][on(from)] ^ keys.men[mover][on(to)] ^ keys.men[captured][on(to)];
    }

    const auto& lost = rights_lost[m_home.code()];
    const std::uint8_t rights =
        m_castling.bits() & static_cast<std::uint8_t>(~(lost[on(from)] | lost[on(to)]));
    m_hash ^= keys.castling[m_castling.bits()] ^ keys.castling[rights] ^
              keys.en_passant[en_passant_key(m_en_passant)] ^ keys.black_to_move;
    m_castling = CastlingRights::from_bits(rights);
    m_en_passant = -1;
    const bool pawn = role_of(mover) == Role::pawn;
    m_halfmoves = pawn || captured != nobody ? 0 : m_halfmoves + 1;
    m_fullmove += us == Color::black;
    m_turn = !us;

    if (move.kind() != MoveKind::normal && !castles) {
        finish_special<us>(move);
    }
    const Square middle = square_at((index(from) + index(to)) / 2);
    const bool double_step = pawn & ((index(from) ^ index(to)) == 16);
    if (double_step & (pawn_attacks(us, middle) & pieces(!us, Role::pawn)).any()) {
        set_en_passant_if_legal(middle);
    }
    find_checkers_and_pinned<!us>();
    return undo;
}

/// What a promotion or an en-passant capture does beyond moving one man from square to square.
template <Color us> void Position::finish_special(Move move) {
    const Square to = move.to();
    if (move.kind() == MoveKind::promotion) {
        take(to);
        put(to, man(us, move.promotes_to()));
    } else {
        take(square_at(file_of(to), rank_of(move.from())));
    }
}

void Position::set_en_passant_if_legal(Square target) {
    if (any_en_passant_is_legal(target)) {
        m_en_passant = static_cast<std::int8_t>(index(target));
        m_hash ^= zobrist::keys.en_passant[en_passant_key(m_en_passant)];
    }
}

template <Color us> void Position::unmake_as(Move move, const Undo& undo) {
    const Square from = move.from();
    const Square to = move.to();
    if (move.kind() == MoveKind::castling) {
        const Castling men = castling_of(move);
        take(men.king_to);
        take(men.rook_to);
        put(men.king_from, man(us, Role::king));
        put(men.rook_from, man(us, Role::rook));
    } else {
        if (move.kind() == MoveKind::promotion) {
            take(to);
            put(to, man(us, Role::pawn));
        } else if (move.kind() == MoveKind::en_passant) {
            put(square_at(file_of(to), rank_of(from)), man(!us, Role::pawn));
        }
        const std::uint8_t mover = m_squares[on(to)];
        const Bitboard path = Bitboard(from) | to;
        m_by_color[index(us)] ^= path;
        m_by_role[mover & 7] ^= path;
        const Bitboard taken = only_if(undo.captured != nobody, to);
        m_by_color[index(!us)] ^= taken;
        m_by_role[undo.captured & 7] ^= taken;
        m_squares[on(from)] = mover;
        m_squares[on(to)] = undo.captured;
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
        const Castling men = castling_of(move);
        everyone = (occupied() & ~(Bitboard(from) | men.rook_from)) | to | men.rook_to;
        return rook_attacks(men.rook_to, everyone).contains(target);
    }
    const Role role = move.is_promotion() ? move.promotes_to() : role_of(m_squares[on(from)]);
    if (attacks({m_turn, role}, to, everyone).contains(target)) {
        return true;
    }
    const detail::Lines& lines = detail::lines[on(target)];
    const Bitboard in_line = lines.rank | lines.file | lines.diagonal | lines.anti_diagonal;
    if (!in_line.contains(from) && move.kind() != MoveKind::en_passant) {
        return false; // nothing can be discovered
    }
    const Bitboard queens = pieces(Role::queen);
    const Bitboard others = pieces(m_turn) & ~Bitboard(from);
    return (bishop_attacks(target, everyone) & (pieces(Role::bishop) | queens) & others).any() ||
           (rook_attacks(target, everyone) & (pieces(Role::rook) | queens) & others).any();
}

} // namespace board
