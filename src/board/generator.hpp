#pragma once
// Legal move generation in one walk for three uses: listing, counting, asking whether there is any. Private
// to board.

#include "board/position.hpp"

namespace board {

/// Moves a whole set by a step of one pawn of White (north, north-west, north-east) or Black.
template <int delta> constexpr Bitboard shift(Bitboard set) {
    constexpr int files = (delta + 64) % 8; // 1: to the right, 7: to the left
    constexpr Bitboard kept = files == 1   ? ~file_bits(7)
                              : files == 7 ? ~file_bits(0)
                                           : Bitboard(~std::uint64_t{0});
    if constexpr (delta > 0) {
        return Bitboard((set & kept).bits() << delta);
    } else {
        return Bitboard((set & kept).bits() >> -delta);
    }
}

class ListSink {
  public:
    explicit ListSink(MoveList& list) : m_list(list) {}
    void moves(Square from, Bitboard targets) {
        for (const Square to : targets) {
            m_list.push(Move::normal(from, to));
        }
    }
    template <int delta> void pawns(Bitboard targets) {
        for (const Square to : targets) {
            m_list.push(Move::normal(square_at(index(to) - delta), to));
        }
    }
    template <int delta> void promotions(Bitboard targets) {
        for (const Square to : targets) {
            for (const Role role : {Role::queen, Role::rook, Role::bishop, Role::knight}) {
                m_list.push(Move::promotion(square_at(index(to) - delta), to, role));
            }
        }
    }
    void one(Move move) { m_list.push(move); }
    static constexpr bool full() { return false; }

  private:
    MoveList& m_list;
};

class CountSink {
  public:
    void moves(Square, Bitboard targets) { m_count += targets.count(); }
    template <int> void pawns(Bitboard targets) { m_count += targets.count(); }
    template <int> void promotions(Bitboard targets) { m_count += targets.any() ? 4 * targets.count() : 0; }
    void one(Move) { ++m_count; }
    static constexpr bool full() { return false; }
    [[nodiscard]] std::size_t count() const { return static_cast<std::size_t>(m_count); }

  private:
    int m_count = 0;
};

class AnySink {
  public:
    void moves(Square, Bitboard targets) { m_any |= targets.any(); }
    template <int> void pawns(Bitboard targets) { m_any |= targets.any(); }
    template <int> void promotions(Bitboard targets) { m_any |= targets.any(); }
    void one(Move) { m_any = true; }
    [[nodiscard]] bool full() const { return m_any; }

  private:
    bool m_any = false;
};

enum class Wanted { all, captures };

template <Color us, detail::Check check> class Generator {
  public:
    explicit Generator(const Position& position)
        : m_position(position), m_own(position.pieces(us)), m_enemy(position.pieces(!us)),
          m_occupied(m_own | m_enemy),
          m_pinned(check == detail::Check::heeded ? position.m_pinned : Bitboard()),
          m_king(position.king(us)) {}

    template <Wanted wanted, class Sink> void run(Sink& sink) const {
        const Bitboard allowed = wanted == Wanted::all ? ~m_own : m_enemy;
        king_moves(sink, allowed);
        const Bitboard checkers = check == detail::Check::heeded ? m_position.m_checkers : Bitboard();
        if (checkers.many() || sink.full()) {
            return;
        }
        Bitboard mask(~std::uint64_t{0});
        if (checkers.any()) {
            mask = checkers | between(m_king, checkers.first());
        } else if (wanted == Wanted::all && !m_position.m_castling.empty()) {
            castle(sink, CastlingSide::king);
            castle(sink, CastlingSide::queen);
        }
        officers(sink, allowed & mask);
        if (!sink.full()) {
            pawns<wanted>(sink, mask);
        }
    }

  private:
    [[nodiscard]] bool safe(Square square, Bitboard occupied) const {
        return check == detail::Check::ignored || m_position.attackers(square, !us, occupied).empty();
    }

    template <class Sink> void king_moves(Sink& sink, Bitboard allowed) const {
        Bitboard targets;
        for (const Square to : king_attacks(m_king) & allowed) {
            if (safe(to, m_occupied ^ m_king)) {
                targets |= to;
            }
        }
        sink.moves(m_king, targets);
    }

    template <class Sink> void castle(Sink& sink, CastlingSide side) const {
        if (!m_position.m_castling.has(us, side)) {
            return;
        }
        if (m_position.m_home.is_shuffled()) {
            castle_from_elsewhere(sink, side);
            return;
        }
        constexpr int rank = us == Color::white ? 0 : 7;
        const bool short_side = side == CastlingSide::king;
        const Square passed = square_at(short_side ? 5 : 3, rank);
        const Square to = square_at(short_side ? 6 : 2, rank);
        const Bitboard path = Bitboard(std::uint64_t{short_side ? 0x60U : 0x0eU} << (8 * rank));
        if ((path & m_occupied).empty() && safe(passed, m_occupied) && safe(to, m_occupied)) {
            sink.one(Move::castling(m_king, to));
        }
    }

    /// Chess960: king and rook go where they would in the orthodox game; all squares they cross, the other's
    /// aside, must be empty, and those of the king safe, the last one with the rook gone from its corner.
    template <class Sink> void castle_from_elsewhere(Sink& sink, CastlingSide side) const {
        constexpr int rank = us == Color::white ? 0 : 7;
        const bool short_side = side == CastlingSide::king;
        const Square rook = m_position.m_home.rook(us, side);
        const Square to = square_at(short_side ? 6 : 2, rank);
        const Square rook_to = square_at(short_side ? 5 : 3, rank);
        const Bitboard others = m_occupied & ~(Bitboard(m_king) | rook);
        const Bitboard king_path = (between(m_king, to) | to) & ~Bitboard(m_king);
        if (((king_path | between(rook, rook_to) | rook_to) & others).any() || !safe(to, others | rook_to)) {
            return;
        }
        for (const Square passed : king_path) {
            if (!safe(passed, m_occupied ^ m_king)) {
                return;
            }
        }
        sink.one(Move::castling(m_king, to));
    }

    template <class Sink> void officers(Sink& sink, Bitboard allowed) const {
        const Bitboard queens = m_position.pieces(Role::queen);
        for (const Square from : m_own& m_position.pieces(Role::knight) & ~m_pinned) {
            sink.moves(from, knight_attacks(from) & allowed);
        }
        const Bitboard diagonal = m_own & (m_position.pieces(Role::bishop) | queens);
        const Bitboard straight = m_own & (m_position.pieces(Role::rook) | queens);
        for (const Square from : diagonal & ~m_pinned) {
            sink.moves(from, bishop_attacks(from, m_occupied) & allowed);
        }
        for (const Square from : straight & ~m_pinned) {
            sink.moves(from, rook_attacks(from, m_occupied) & allowed);
        }
        for (const Square from : diagonal& m_pinned) {
            sink.moves(from, bishop_attacks(from, m_occupied) & allowed & line_through(m_king, from));
        }
        for (const Square from : straight& m_pinned) {
            sink.moves(from, rook_attacks(from, m_occupied) & allowed & line_through(m_king, from));
        }
    }

    template <Wanted wanted, class Sink> void pawns(Sink& sink, Bitboard mask) const {
        const Bitboard all = m_own & m_position.pieces(Role::pawn);
        pawn_moves<wanted>(sink, all & ~m_pinned, mask);
        for (const Square from : all& m_pinned) {
            pawn_moves<wanted>(sink, from, mask & line_through(m_king, from));
        }
        if (m_position.m_en_passant >= 0) {
            const Square target = square_at(m_position.m_en_passant);
            for (const Square from : pawn_attacks(!us, target) & all) {
                if (check == detail::Check::ignored || m_position.en_passant_is_legal(from, target)) {
                    sink.one(Move::en_passant(from, target));
                }
            }
        }
    }

    template <Wanted wanted, class Sink> void pawn_moves(Sink& sink, Bitboard from, Bitboard mask) const {
        constexpr int up = us == Color::white ? 8 : -8;
        constexpr Bitboard last = rank_bits(us == Color::white ? 7 : 0);
        constexpr Bitboard third = rank_bits(us == Color::white ? 2 : 5);
        const Bitboard free = ~m_occupied;
        const Bitboard stepped = shift<up>(from) & free;
        const Bitboard west = shift<up - 1>(from) & m_enemy & mask;
        const Bitboard east = shift<up + 1>(from) & m_enemy & mask;
        if constexpr (wanted == Wanted::all) {
            sink.template pawns<up>(stepped & mask & ~last);
            sink.template pawns<2 * up>(shift<up>(stepped & third) & free & mask);
        }
        sink.template pawns<up - 1>(west & ~last);
        sink.template pawns<up + 1>(east & ~last);
        if (((stepped | west | east) & last).any()) {
            sink.template promotions<up>(stepped & mask & last);
            sink.template promotions<up - 1>(west & last);
            sink.template promotions<up + 1>(east & last);
        }
    }

    const Position& m_position;
    Bitboard m_own;
    Bitboard m_enemy;
    Bitboard m_occupied;
    Bitboard m_pinned;
    Square m_king;
};

} // namespace board
