#pragma once
// A playable position: legal moves, making and taking back, hashing. Never impossible in the sense of SetupFault.

#include "board/attacks.hpp"
#include "board/move.hpp"
#include "board/result.hpp"
#include "board/setup.hpp"

#include <array>
#include <cstdint>
#include <optional>

namespace board {

using Hash = std::uint64_t;

class Position {
  public:
    /// The initial array.
    Position();
    /// All faults at once when the setup cannot be played.
    [[nodiscard]] static Result<Position, SetupFaults> from(const Setup& setup);

    [[nodiscard]] Color turn() const;
    [[nodiscard]] Bitboard occupied() const;
    [[nodiscard]] Bitboard pieces(Color color) const;
    [[nodiscard]] Bitboard pieces(Role role) const;
    [[nodiscard]] Bitboard pieces(Color color, Role role) const;
    [[nodiscard]] std::optional<Piece> at(Square square) const;
    [[nodiscard]] Square king(Color color) const;
    [[nodiscard]] CastlingRights castling() const;
    /// Only when an en-passant capture is fully legal (pins included).
    [[nodiscard]] std::optional<Square> en_passant() const;
    [[nodiscard]] int halfmoves() const;
    [[nodiscard]] int fullmove() const;
    [[nodiscard]] Setup setup() const;

    /// Men of `color` that attack `square`, lines seen through `occupied`.
    [[nodiscard]] Bitboard attackers(Square square, Color color, Bitboard occupied) const;
    [[nodiscard]] Bitboard attackers(Square square, Color color) const { return attackers(square, color, occupied()); }
    /// Men that give check to the side to move.
    [[nodiscard]] Bitboard checkers() const;
    [[nodiscard]] bool in_check() const { return checkers().any(); }
    /// Men of `color` that may not leave the line to their own king.
    [[nodiscard]] Bitboard pinned(Color color) const;

    /// All legal moves, in an order that depends on the position alone.
    [[nodiscard]] MoveList legal_moves() const;
    /// Captures (en passant included) and promotions only, legal.
    [[nodiscard]] MoveList legal_captures() const;
    [[nodiscard]] bool has_legal_move() const;
    [[nodiscard]] bool is_legal(Move move) const;
    /// Number of legal moves, counted without listing them where that is cheaper.
    [[nodiscard]] std::size_t count_legal_moves() const;

    [[nodiscard]] bool is_capture(Move move) const;
    [[nodiscard]] bool gives_check(Move move) const;
    /// What `move` takes off the board (a pawn for en passant).
    [[nodiscard]] std::optional<Role> captured(Move move) const;

    /// What make() destroys.
    struct Undo {
        Hash hash;
        Bitboard checkers;
        std::uint16_t halfmoves;
        CastlingRights castling;
        std::int8_t en_passant; ///< square index or -1
        std::int8_t captured;   ///< role index or -1
    };
    /// Plays a legal move. Anything else is undefined.
    Undo make(Move move);
    void unmake(Move move, const Undo& undo);
    /// The position after a legal move.
    [[nodiscard]] Position after(Move move) const;
    /// The same diagram with the other side to move; nothing when the side to move is in check.
    [[nodiscard]] std::optional<Position> passed() const;

    [[nodiscard]] bool is_checkmate() const;
    [[nodiscard]] bool is_stalemate() const;
    /// Neither side can ever mate: K v K, one minor piece, or bishops that all stand on one colour.
    [[nodiscard]] bool is_dead() const;

    /// Zobrist key of placement, side, real rights and a legal en-passant capture: equal for positions that count as
    /// repeated (FIDE Laws 9.2), counters ignored.
    [[nodiscard]] Hash hash() const;
    /// Same placement, side, rights and en-passant capture; counters ignored.
    [[nodiscard]] bool same_as(const Position& other) const;

  private:
    std::array<Bitboard, 2> m_by_color{};
    std::array<Bitboard, 6> m_by_role{};
    std::array<std::uint8_t, 64> m_squares{}; ///< 0 empty, else 1 + role + 8 * color
    Hash m_hash = 0;
    Bitboard m_checkers;
    std::uint16_t m_halfmoves = 0;
    std::uint16_t m_fullmove = 1;
    CastlingRights m_castling;
    std::int8_t m_en_passant = -1;
    Color m_turn = Color::white;
};

} // namespace board
