#include "report/report.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace report {
namespace {

/// Empty light squares are '.', dark ones ':', so that diagonals can be followed by eye.
char sign(const board::Setup& setup, board::Square square) {
    if (const auto piece = setup.at(square)) {
        return board::letter(*piece);
    }
    const bool dark = (board::file_of(square) + board::rank_of(square)) % 2 == 0;
    return dark ? ':' : '.';
}

} // namespace

std::string diagram(const board::Setup& setup, board::Color below, std::span<const board::Square> marked) {
    const auto is_marked = [&](board::Square square) {
        return std::find(marked.begin(), marked.end(), square) != marked.end();
    };
    const bool white_below = below == board::Color::white;
    std::string drawn;
    for (int row = 0; row < 8; ++row) {
        const int rank = white_below ? 7 - row : row;
        drawn += fmt::format("{} ", rank + 1);
        bool bracket_open = false;
        for (int column = 0; column < 8; ++column) {
            const board::Square square = board::square_at(white_below ? column : 7 - column, rank);
            const bool opens = is_marked(square);
            drawn += opens && bracket_open ? '|' : opens ? '[' : bracket_open ? ']' : ' ';
            drawn += sign(setup, square);
            bracket_open = opens;
        }
        drawn += bracket_open ? "]\n" : "\n";
    }
    drawn += white_below ? "   a b c d e f g h" : "   h g f e d c b a";
    drawn += setup.turn == board::Color::white ? "   White to move\n" : "   Black to move\n";
    return drawn;
}

std::string diagram(const board::Position& position, board::Color below) {
    return diagram(position.setup(), below);
}

} // namespace report
