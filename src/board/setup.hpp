#pragma once
// Setup: any diagram, even an impossible one. Position (position.hpp) is made from it only when it can be
// played.

#include "board/bitboard.hpp"

#include <array>
#include <cstdint>
#include <optional>

namespace board {

enum class CastlingSide : std::uint8_t { king, queen };

/// A set of the four rights K Q k q.
class CastlingRights {
  public:
    [[nodiscard]] static constexpr std::uint8_t bit(Color color, CastlingSide side) {
        return static_cast<std::uint8_t>(
            1U << (2U * static_cast<unsigned>(color) + static_cast<unsigned>(side)));
    }
    [[nodiscard]] constexpr bool has(Color color, CastlingSide side) const {
        return (m_bits & bit(color, side)) != 0;
    }
    constexpr void add(Color color, CastlingSide side) {
        m_bits = static_cast<std::uint8_t>(m_bits | bit(color, side));
    }
    constexpr void remove(Color color, CastlingSide side) {
        m_bits = static_cast<std::uint8_t>(m_bits & ~bit(color, side));
    }
    [[nodiscard]] constexpr bool empty() const { return m_bits == 0; }
    [[nodiscard]] constexpr std::uint8_t bits() const { return m_bits; }
    [[nodiscard]] static constexpr CastlingRights from_bits(std::uint8_t bits) {
        CastlingRights rights;
        rights.m_bits = static_cast<std::uint8_t>(bits & 15U);
        return rights;
    }
    friend constexpr bool operator==(CastlingRights, CastlingRights) = default;

  private:
    std::uint8_t m_bits = 0;
};

/// Where king and rooks stood in the initial array, both sides alike: on e, h and a unless the officers were
/// shuffled (Chess960, FIDE Laws of Chess 2023, Guidelines II).
class HomeArray {
  public:
    constexpr HomeArray() = default; ///< the orthodox array
    /// Files with 0 <= queen_rook < king < king_rook <= 7.
    [[nodiscard]] static constexpr HomeArray shuffled(int king, int king_rook, int queen_rook) {
        HomeArray array;
        array.m_code = static_cast<std::uint8_t>(1 + ((king - 1) * 6 + king_rook - 2) * 6 + queen_rook);
        return array;
    }
    [[nodiscard]] static constexpr HomeArray from_code(std::uint8_t code) {
        HomeArray array;
        array.m_code = code;
        return array;
    }
    /// Below `codes`; 0 is the orthodox array.
    [[nodiscard]] constexpr std::uint8_t code() const { return m_code; }
    static constexpr std::size_t codes = 217;

    [[nodiscard]] constexpr bool is_shuffled() const { return m_code != 0; }
    [[nodiscard]] constexpr int king_file() const { return is_shuffled() ? (m_code - 1) / 36 + 1 : 4; }
    [[nodiscard]] constexpr int rook_file(CastlingSide side) const {
        if (!is_shuffled()) {
            return side == CastlingSide::king ? 7 : 0;
        }
        return side == CastlingSide::king ? (m_code - 1) / 6 % 6 + 2 : (m_code - 1) % 6;
    }
    [[nodiscard]] constexpr Square king(Color color) const { return on_first_rank(color, king_file()); }
    [[nodiscard]] constexpr Square rook(Color color, CastlingSide side) const {
        return on_first_rank(color, rook_file(side));
    }
    friend constexpr bool operator==(HomeArray, HomeArray) = default;

  private:
    static constexpr Square on_first_rank(Color color, int file) {
        return square_at(file, color == Color::white ? 0 : 7);
    }
    std::uint8_t m_code = 0;
};

/// A diagram with its side fields. Value type; nothing is checked.
struct Setup {
    std::array<Bitboard, 2> by_color{};
    std::array<Bitboard, 6> by_role{};
    Color turn = Color::white;
    CastlingRights castling;
    HomeArray home; ///< what the castling rights speak of
    std::optional<Square> en_passant;
    int halfmoves = 0; ///< since the last capture or pawn move
    int fullmove = 1;  ///< number of the move about to be played

    [[nodiscard]] Bitboard occupied() const { return by_color[0] | by_color[1]; }
    [[nodiscard]] Bitboard pieces(Color color, Role role) const {
        return by_color[index(color)] & by_role[index(role)];
    }
    [[nodiscard]] Bitboard pieces(Color color) const { return by_color[index(color)]; }
    [[nodiscard]] std::optional<Piece> at(Square square) const;
    void put(Square square, Piece piece);
    void remove(Square square);

    friend bool operator==(const Setup&, const Setup&) = default;
};

/// Why a Setup cannot be played. Each says only what its comment says; reachability is the room `setup`.
enum class SetupFault : std::uint16_t {
    kings = 1,             ///< a side has no king, or more than one
    adjacent_kings = 2,    ///< the kings stand next to each other
    pawn_ranks = 4,        ///< a pawn stands on the first or eighth rank
    opponent_in_check = 8, ///< the side that is not to move is in check
    castling_rights = 16,  ///< a right whose king or rook is not at home
    en_passant = 32, ///< wrong rank for the side to move, or its squares and pawn contradict a double step
};

class SetupFaults {
  public:
    constexpr void add(SetupFault fault) {
        m_bits = static_cast<std::uint16_t>(m_bits | static_cast<std::uint16_t>(fault));
    }
    [[nodiscard]] constexpr bool has(SetupFault fault) const {
        return (m_bits & static_cast<std::uint16_t>(fault)) != 0;
    }
    [[nodiscard]] constexpr bool empty() const { return m_bits == 0; }
    friend constexpr bool operator==(SetupFaults, SetupFaults) = default;

  private:
    std::uint16_t m_bits = 0;
};

/// All faults of a setup at once.
[[nodiscard]] SetupFaults faults_of(const Setup& setup);
/// The same diagram without castling rights and en-passant square that contradict it: the two faults a reader
/// can mend.
[[nodiscard]] Setup without_field_faults(const Setup& setup);

} // namespace board
