#include "board/square.hpp"

namespace board {

namespace {
constexpr std::string_view letters = "pnbrqk";

/// For each byte 1 + role + 8 * color, or 0.
constexpr auto make_letter_table() {
    std::array<std::uint8_t, 256> table{};
    for (std::size_t role = 0; role < letters.size(); ++role) {
        const auto lower = static_cast<std::size_t>(static_cast<unsigned char>(letters[role]));
        table[lower - 'a' + 'A'] = static_cast<std::uint8_t>(1 + role);
        table[lower] = static_cast<std::uint8_t>(1 + role + 8);
    }
    return table;
}
constexpr auto letter_table = make_letter_table();
} // namespace

std::string name(Square square) {
    return {static_cast<char>('a' + file_of(square)), static_cast<char>('1' + rank_of(square))};
}

std::optional<Square> read_square(std::string_view text) {
    if (text.size() != 2 || text[0] < 'a' || text[0] > 'h' || text[1] < '1' || text[1] > '8') {
        return std::nullopt;
    }
    return square_at(text[0] - 'a', text[1] - '1');
}

char letter(Piece piece) {
    const char lower = letters[index(piece.role)];
    return piece.color == Color::black ? lower : static_cast<char>(lower - 'a' + 'A');
}

std::optional<Piece> read_piece(char letter) {
    const int man = letter_table[static_cast<unsigned char>(letter)] - 1;
    return man < 0 ? std::nullopt
                   : std::optional(Piece{static_cast<Color>(man >> 3), static_cast<Role>(man & 7)});
}

std::string_view name(Color color) {
    return color == Color::white ? "white" : "black";
}

std::string_view name(Role role) {
    constexpr std::array<std::string_view, 6> names{"pawn", "knight", "bishop", "rook", "queen", "king"};
    return names[index(role)];
}

} // namespace board
