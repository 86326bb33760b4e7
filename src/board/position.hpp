#pragma once
// A playable position: legal moves, making and taking back, hashing. Never impossible in the sense of
// SetupFault.

#include "board/attacks.hpp"
#include "board/move.hpp"
#include "board/result.hpp"
#include "board/setup.hpp"

#include <array>
#include <cstdint>
#include <optional>

namespace board {

using Hash = std::uint64_t;

namespace detail {
enum class Check : std::uint8_t { heeded, ignored };
} // namespace detail
template <Color us, detail::Check check> class Generator; // private to board

class Position {
  public:
    /// The initial array.
    Position();
    /// All faults at once when the setup cannot be played. Counters outside 16 bits are clamped.
    [[nodiscard]] static Result<Position, SetupFaults> from(const Setup& setup);

    [[nodiscard]] Color turn() const { return m_turn; }
    [[nodiscard]] Bitboard occupied() const { return m_by_color[0] | m_by_color[1]; }
    [[nodiscard]] Bitboard pieces(Color color) const { return m_by_color[index(color)]; }
    [[nodiscard]] Bitboard pieces(Role role) const { return m_by_role[index(role)]; }
    [[nodiscard]] Bitboard pieces(Color color, Role role) const { return pieces(color) & pieces(role); }
    [[nodiscard]] std::optional<Piece> at(Square square) const {
        const std::uint8_t man = m_squares[on(square)];
        return man == nobody ? std::nullopt
                             : std::optional(Piece{static_cast<Color>(man >> 3), role_of(man)});
    }
    [[nodiscard]] Square king(Color color) const { return pieces(color, Role::king).first(); }
    [[nodiscard]] CastlingRights castling() const { return m_castling; }
    [[nodiscard]] HomeArray home() const { return m_home; }
    /// Only when an en-passant capture is fully legal (pins included).
    [[nodiscard]] std::optional<Square> en_passant() const {
        return m_en_passant < 0 ? std::nullopt : std::optional(square_at(m_en_passant));
    }
    [[nodiscard]] int halfmoves() const { return m_halfmoves; }
    [[nodiscard]] int fullmove() const { return m_fullmove; }
    [[nodiscard]] Setup setup() const;

    /// Men of `color` that attack `square`, lines seen through `occupied`.
    [[nodiscard]] Bitboard attackers(Square square, Color color, Bitboard occupied) const {
        const Bitboard queens = pieces(Role::queen);
        return ((pawn_attacks(!color, square) & pieces(Role::pawn)) |
                (knight_attacks(square) & pieces(Role::knight)) |
                (king_attacks(square) & pieces(Role::king)) |
                (bishop_attacks(square, occupied) & (pieces(Role::bishop) | queens)) |
                (rook_attacks(square, occupied) & (pieces(Role::rook) | queens))) &
               pieces(color);
    }
    [[nodiscard]] Bitboard attackers(Square square, Color color) const {
        return attackers(square, color, occupied());
    }
    /// Men that give check to the side to move.
    [[nodiscard]] Bitboard checkers() const { return m_checkers; }
    [[nodiscard]] bool in_check() const { return m_checkers.any(); }
    /// Men of `color` that may not leave the line to their own king.
    [[nodiscard]] Bitboard pinned(Color color) const;

    /// All legal moves, in an order that depends on the position alone.
    [[nodiscard]] MoveList legal_moves() const;
    /// Captures (en passant included) and promotions only, legal.
    [[nodiscard]] MoveList legal_captures() const;
    /// What the men could do if their king could not be attacked: the legal moves and those barred only by
    /// check, castling out of, through and into check among them. Not for the inner loop.
    [[nodiscard]] MoveList moves_ignoring_check() const;
    [[nodiscard]] bool has_legal_move() const;
    /// Any 16 bits may be asked about, also a move meant for another position.
    [[nodiscard]] bool is_legal(Move move) const;
    /// Number of legal moves, counted without listing them where that is cheaper.
    [[nodiscard]] std::size_t count_legal_moves() const;

    [[nodiscard]] bool is_capture(Move move) const {
        return move.kind() == MoveKind::normal || move.is_promotion()
                   ? m_squares[on(move.to())] != nobody
                   : move.kind() == MoveKind::en_passant; // a king may castle to where its rook stands
    }
    [[nodiscard]] bool gives_check(Move move) const;
    /// What `move` takes off the board (a pawn for en passant).
    [[nodiscard]] std::optional<Role> captured(Move move) const {
        if (move.kind() == MoveKind::en_passant) {
            return Role::pawn;
        }
        const std::uint8_t man = move.kind() == MoveKind::castling ? nobody : m_squares[on(move.to())];
        return man == nobody ? std::nullopt : std::optional(role_of(man));
    }

    /// What make() destroys.
    struct Undo {
        Hash hash;
        Bitboard checkers;
        Bitboard pinned;
        std::int32_t halfmoves;
        CastlingRights castling;
        std::int8_t en_passant; ///< square index or -1
        std::uint8_t captured;  ///< role + 8 * color, or 16 for nobody
    };
    /// Plays a legal move. Anything else is undefined.
    Undo make(Move move);
    void unmake(Move move, const Undo& undo);
    /// The position after a legal move.
    [[nodiscard]] Position after(Move move) const {
        Position next = *this;
        next.make(move);
        return next;
    }
    /// The same diagram with the other side to move; nothing when the side to move is in check.
    [[nodiscard]] std::optional<Position> passed() const;

    [[nodiscard]] bool is_checkmate() const { return in_check() && !has_legal_move(); }
    [[nodiscard]] bool is_stalemate() const { return !in_check() && !has_legal_move(); }
    /// Neither side can ever mate: K v K, one minor piece, or bishops that all stand on one colour.
    [[nodiscard]] bool is_dead() const;

    /// Zobrist key of placement, side, real rights and a legal en-passant capture: equal for positions that
    /// count as repeated (FIDE Laws 9.2), counters ignored.
    [[nodiscard]] Hash hash() const { return m_hash; }
    /// Same placement, side, rights and en-passant capture; counters ignored.
    [[nodiscard]] bool same_as(const Position& other) const {
        return m_by_color == other.m_by_color && m_by_role == other.m_by_role && m_turn == other.m_turn &&
               m_castling == other.m_castling && m_home == other.m_home && m_en_passant == other.m_en_passant;
    }

  private:
    struct Empty {};
    explicit Position(Empty) { m_squares.fill(nobody); }

    static constexpr std::uint8_t nobody = 16;
    static constexpr std::size_t on(Square square) { return static_cast<std::size_t>(index(square)); }
    static constexpr Role role_of(std::uint8_t man) { return static_cast<Role>(man & 7); }

    template <Color us> Undo make_as(Move move);
    template <Color us> void unmake_as(Move move, const Undo& undo);
    template <Color us> void finish_special(Move move);
    /// The squares of a castling move.
    struct Castling {
        Square king_from, king_to, rook_from, rook_to;
    };
    [[nodiscard]] Castling castling_of(Move move) const;
    template <Color us> void find_checkers_and_pinned();
    void set_en_passant_if_legal(Square target);
    void put(Square square, std::uint8_t man);
    void take(Square square);
    void find_checkers_and_pinned();
    [[nodiscard]] bool pawn_could_go(Move move) const;
    [[nodiscard]] bool en_passant_is_legal(Square from, Square target) const;
    [[nodiscard]] bool any_en_passant_is_legal(Square target) const;
    [[nodiscard]] Hash hash_from_scratch() const;
    template <Color us, detail::Check check> friend class Generator;

    std::array<Bitboard, 2> m_by_color{};
    std::array<Bitboard, 6> m_by_role{};
    std::array<std::uint8_t, 64> m_squares; ///< role + 8 * color, or nobody
    Hash m_hash = 0;
    Bitboard m_checkers;
    Bitboard m_pinned; ///< men of the side to move
    std::int32_t m_halfmoves = 0;
    std::int32_t m_fullmove = 1;
    CastlingRights m_castling;
    HomeArray m_home;
    std::int8_t m_en_passant = -1;
    Color m_turn = Color::white;
};

} // namespace board
