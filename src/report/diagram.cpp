#include "collection/text.hpp"
#include "report/report.hpp"
#include "report/utf8.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace report {
namespace {

/// Unicode's chess symbols, U+2654 to U+265F: White's men in outline, Black's filled, king to pawn.
char32_t figurine(char letter) {
    constexpr std::string_view men = "KQRBNPkqrbnp";
    return 0x2654 + static_cast<char32_t>(men.find(letter));
}

/// Empty light squares are '.', dark ones ':', so that diagonals can be followed by eye.
void append_sign(std::string& drawn, const board::Setup& setup, board::Square square, Men men) {
    if (const auto piece = setup.at(square)) {
        const char letter = board::letter(*piece);
        collection::append_utf8(drawn,
                                men == Men::figurines ? figurine(letter) : static_cast<char32_t>(letter));
        return;
    }
    const bool dark = (board::file_of(square) + board::rank_of(square)) % 2 == 0;
    drawn += dark ? ':' : '.';
}

} // namespace

std::string diagram(const board::Setup& setup, board::Color below, std::span<const board::Square> marked,
                    Men men) {
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
            append_sign(drawn, setup, square, men);
            bracket_open = opens;
        }
        drawn += bracket_open ? "]\n" : "\n";
    }
    drawn += white_below ? "   a b c d e f g h" : "   h g f e d c b a";
    drawn += setup.turn == board::Color::white ? "   White to move\n" : "   Black to move\n";
    return drawn;
}

std::string diagram(const board::Position& position, board::Color below, Men men) {
    return diagram(position.setup(), below, {}, men);
}

} // namespace report
