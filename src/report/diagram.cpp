#include "report/report.hpp"

#include <fmt/format.h>

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

std::string diagram(const board::Setup& setup, board::Color below) {
    const bool white_below = below == board::Color::white;
    std::string drawn;
    for (int row = 0; row < 8; ++row) {
        const int rank = white_below ? 7 - row : row;
        drawn += fmt::format("{} ", rank + 1);
        for (int column = 0; column < 8; ++column) {
            const int file = white_below ? column : 7 - column;
            drawn += fmt::format(" {}", sign(setup, board::square_at(file, rank)));
        }
        drawn += '\n';
    }
    drawn += white_below ? "   a b c d e f g h" : "   h g f e d c b a";
    drawn += setup.turn == board::Color::white ? "   White to move\n" : "   Black to move\n";
    return drawn;
}

std::string diagram(const board::Position& position, board::Color below) {
    return diagram(position.setup(), below);
}

} // namespace report
