#pragma once
// A move in 16 bits, and a list of moves that never allocates.

#include "board/square.hpp"

#include <cassert>
#include <cstdint>
#include <span>
#include <string>

namespace board {

enum class MoveKind : std::uint8_t { normal, promotion, en_passant, castling };

/// From-square, to-square and kind. Castling is written as the king's move (e1-g1). Meaningful only with its
/// position.
class Move {
  public:
    constexpr Move() = default; ///< no move: from() == to()
    static constexpr Move normal(Square from, Square to) {
        return Move(from, to, MoveKind::normal, Role::knight);
    }
    static constexpr Move en_passant(Square from, Square to) {
        return Move(from, to, MoveKind::en_passant, Role::knight);
    }
    static constexpr Move castling(Square from, Square to) {
        return Move(from, to, MoveKind::castling, Role::knight);
    }
    static constexpr Move promotion(Square from, Square to, Role role) {
        return Move(from, to, MoveKind::promotion, role);
    }

    [[nodiscard]] constexpr Square from() const { return static_cast<Square>(m_raw & 63); }
    [[nodiscard]] constexpr Square to() const { return static_cast<Square>((m_raw >> 6) & 63); }
    [[nodiscard]] constexpr MoveKind kind() const { return static_cast<MoveKind>(m_raw >> 14); }
    /// Knight, bishop, rook or queen; only for promotions.
    [[nodiscard]] constexpr Role promotes_to() const { return static_cast<Role>(((m_raw >> 12) & 3) + 1); }
    [[nodiscard]] constexpr bool is_promotion() const { return kind() == MoveKind::promotion; }
    [[nodiscard]] constexpr std::uint16_t raw() const { return m_raw; }
    [[nodiscard]] static constexpr Move from_raw(std::uint16_t raw) {
        Move move;
        move.m_raw = raw;
        return move;
    }
    explicit constexpr operator bool() const { return m_raw != 0; }
    friend constexpr bool operator==(Move, Move) = default;

  private:
    constexpr Move(Square from, Square to, MoveKind kind, Role role)
        : m_raw(static_cast<std::uint16_t>(index(from) | (index(to) << 6) |
                                           ((static_cast<int>(role) - 1) << 12) |
                                           (static_cast<int>(kind) << 14))) {}
    std::uint16_t m_raw = 0;
};

/// The moves of one position, never allocating. A game gives at most 218 (from memory); a diagram full of
/// queens gives more: a square is entered along at most eight lines and eight knight's leaps, and so the men
/// that fit beside the squares they enter make fewer than 560 moves.
class MoveList {
  public:
    static constexpr std::size_t capacity = 576;

    MoveList() {} // NOLINT: leaves the moves uninitialised on purpose, this is the inner loop
    void push(Move move) {
        assert(m_size < capacity);
        m_moves[m_size++] = move;
    }
    void clear() { m_size = 0; }
    void resize(std::size_t smaller) {
        assert(smaller <= m_size);
        m_size = smaller;
    }
    [[nodiscard]] std::size_t size() const { return m_size; }
    [[nodiscard]] bool empty() const { return m_size == 0; }
    [[nodiscard]] Move operator[](std::size_t i) const { return m_moves[i]; }
    [[nodiscard]] Move* begin() { return m_moves; }
    [[nodiscard]] Move* end() { return m_moves + m_size; }
    [[nodiscard]] const Move* begin() const { return m_moves; }
    [[nodiscard]] const Move* end() const { return m_moves + m_size; }
    [[nodiscard]] bool contains(Move move) const {
        for (const Move m : *this) {
            if (m == move) {
                return true;
            }
        }
        return false;
    }

  private:
    union {
        Move m_moves[capacity]; // in a union so that nothing clears it
    };
    std::size_t m_size = 0;
};

/// "e2e4", "e7e8q"
[[nodiscard]] std::string write_coordinate(Move move);

} // namespace board
