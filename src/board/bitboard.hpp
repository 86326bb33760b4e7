#pragma once
// A set of squares in one machine word; bit n is Square n.

#include "board/square.hpp"

#include <bit>
#include <cstdint>

namespace board {

class Bitboard {
  public:
    constexpr Bitboard() = default;
    constexpr explicit Bitboard(std::uint64_t bits) : m_bits(bits) {}
    constexpr Bitboard(Square square) : m_bits(std::uint64_t{1} << index(square)) {}

    [[nodiscard]] constexpr std::uint64_t bits() const { return m_bits; }
    [[nodiscard]] constexpr bool empty() const { return m_bits == 0; }
    [[nodiscard]] constexpr bool any() const { return m_bits != 0; }
    [[nodiscard]] constexpr bool many() const { return (m_bits & (m_bits - 1)) != 0; }
    [[nodiscard]] constexpr int count() const {
#ifdef __POPCNT__
        return std::popcount(m_bits);
#else
        // The baseline machine has no such instruction, and the compilers' library call is slower than this.
        std::uint64_t n = m_bits - ((m_bits >> 1) & 0x5555555555555555);
        n = (n & 0x3333333333333333) + ((n >> 2) & 0x3333333333333333);
        n = (n + (n >> 4)) & 0x0f0f0f0f0f0f0f0f;
        return static_cast<int>((n * 0x0101010101010101) >> 56);
#endif
    }
    [[nodiscard]] constexpr bool contains(Square square) const {
        return ((m_bits >> index(square)) & 1) != 0;
    }
    /// Lowest square; undefined on an empty set.
    [[nodiscard]] constexpr Square first() const {
        return static_cast<Square>(__builtin_ctzll(m_bits));
    }
    constexpr Square take_first() {
        const Square square = first();
        m_bits &= m_bits - 1;
        return square;
    }

    friend constexpr Bitboard operator&(Bitboard a, Bitboard b) {
        return Bitboard(a.m_bits & b.m_bits);
    }
    friend constexpr Bitboard operator|(Bitboard a, Bitboard b) {
        return Bitboard(a.m_bits | b.m_bits);
    }
    friend constexpr Bitboard operator^(Bitboard a, Bitboard b) {
        return Bitboard(a.m_bits ^ b.m_bits);
    }
    friend constexpr Bitboard operator~(Bitboard a) {
        return Bitboard(~a.m_bits);
    }
    constexpr Bitboard& operator&=(Bitboard b) {
        return *this = *this & b;
    }
    constexpr Bitboard& operator|=(Bitboard b) {
        return *this = *this | b;
    }
    constexpr Bitboard& operator^=(Bitboard b) {
        return *this = *this ^ b;
    }
    friend constexpr bool operator==(Bitboard, Bitboard) = default;

    /// Squares in ascending order: `for (Square s : board)`.
    class Iterator {
      public:
        constexpr explicit Iterator(std::uint64_t bits) : m_bits(bits) {}
        constexpr Square operator*() const { return static_cast<Square>(__builtin_ctzll(m_bits)); }
        constexpr Iterator& operator++() {
            m_bits &= m_bits - 1;
            return *this;
        }
        friend constexpr bool operator==(Iterator, Iterator) = default;

      private:
        std::uint64_t m_bits;
    };
    [[nodiscard]] constexpr Iterator begin() const {
        return Iterator(m_bits);
    }
    [[nodiscard]] constexpr Iterator end() const {
        return Iterator(0);
    }

  private:
    std::uint64_t m_bits = 0;
};

constexpr Bitboard file_bits(int file) {
    return Bitboard(std::uint64_t{0x0101010101010101} << file);
}
constexpr Bitboard rank_bits(int rank) {
    return Bitboard(std::uint64_t{0xff} << (8 * rank));
}
inline constexpr Bitboard light_squares{0x55aa55aa55aa55aa};
inline constexpr Bitboard dark_squares{0xaa55aa55aa55aa55};

} // namespace board
