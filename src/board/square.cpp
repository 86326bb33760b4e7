#include "board/square.hpp"

namespace board {

namespace {
constexpr std::string_view letters = "pnbrqk";
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
    const bool white = letter >= 'A' && letter <= 'Z';
    const std::size_t role = letters.find(white ? static_cast<char>(letter - 'A' + 'a') : letter);
    if (role == std::string_view::npos) {
        return std::nullopt;
    }
    return Piece{white ? Color::white : Color::black, all_roles[role]};
}

std::string_view name(Color color) {
    return color == Color::white ? "white" : "black";
}

std::string_view name(Role role) {
    constexpr std::array<std::string_view, 6> names{"pawn", "knight", "bishop", "rook", "queen", "king"};
    return names[index(role)];
}

} // namespace board
