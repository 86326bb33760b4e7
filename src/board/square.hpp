#pragma once
// Colours, roles, pieces and squares.

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace board {

enum class Color : std::uint8_t { white, black };
constexpr Color operator!(Color color) {
    return color == Color::white ? Color::black : Color::white;
}
constexpr std::size_t index(Color color) {
    return static_cast<std::size_t>(color);
}

enum class Role : std::uint8_t { pawn, knight, bishop, rook, queen, king };
inline constexpr std::array all_roles{Role::pawn, Role::knight, Role::bishop,
                                      Role::rook, Role::queen,  Role::king};
constexpr std::size_t index(Role role) {
    return static_cast<std::size_t>(role);
}

struct Piece {
    Color color;
    Role role;
    friend constexpr bool operator==(Piece, Piece) = default;
};

/// The 64 squares, a1 = 0, b1 = 1, ... h8 = 63.
enum class Square : std::uint8_t {
    // clang-format off
    a1, b1, c1, d1, e1, f1, g1, h1,
    a2, b2, c2, d2, e2, f2, g2, h2,
    a3, b3, c3, d3, e3, f3, g3, h3,
    a4, b4, c4, d4, e4, f4, g4, h4,
    a5, b5, c5, d5, e5, f5, g5, h5,
    a6, b6, c6, d6, e6, f6, g6, h6,
    a7, b7, c7, d7, e7, f7, g7, h7,
    a8, b8, c8, d8, e8, f8, g8, h8,
    // clang-format on
};

constexpr int index(Square square) {
    return static_cast<int>(square);
}
/// File a = 0 ... h = 7; rank 1 = 0 ... 8 = 7.
constexpr int file_of(Square square) {
    return index(square) & 7;
}
constexpr int rank_of(Square square) {
    return index(square) >> 3;
}
constexpr Square square_at(int file, int rank) {
    return static_cast<Square>(rank * 8 + file);
}
constexpr Square square_at(int index) {
    return static_cast<Square>(index);
}
/// King's distance.
constexpr int distance(Square a, Square b) {
    const int files = file_of(a) > file_of(b) ? file_of(a) - file_of(b) : file_of(b) - file_of(a);
    const int ranks = rank_of(a) > rank_of(b) ? rank_of(a) - rank_of(b) : rank_of(b) - rank_of(a);
    return files > ranks ? files : ranks;
}
/// Rank as `color` counts it: its own first rank is 0.
constexpr int relative_rank(Color color, Square square) {
    return color == Color::white ? rank_of(square) : 7 - rank_of(square);
}

/// "e4"
[[nodiscard]] std::string name(Square square);
[[nodiscard]] std::optional<Square> read_square(std::string_view text);
/// English letter, upper case for White: 'N', 'p'.
[[nodiscard]] char letter(Piece piece);
[[nodiscard]] std::optional<Piece> read_piece(char letter);
/// "white", "knight"
[[nodiscard]] std::string_view name(Color color);
[[nodiscard]] std::string_view name(Role role);

/// 1 3 3 5 9, king 0: the scale of nearly all primers.
constexpr int value_of(Role role) {
    constexpr std::array<int, 6> scale{1, 3, 3, 5, 9, 0};
    return scale[index(role)];
}

} // namespace board
