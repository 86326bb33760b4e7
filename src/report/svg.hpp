#pragma once
// Diagrams as vector drawings in the manner of print: hatched dark squares, men of our own drawing.

#include "board/setup.hpp"
#include "report/escapers.hpp"

#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace report {

struct Arrow {
    board::Square from = board::Square::a1;
    board::Square to = board::Square::a1;
    enum class Kind : std::uint8_t { move, reply } kind = Kind::move; ///< a reply is drawn broken
};

struct Drawing {
    board::Setup setup;
    board::Color below = board::Color::white;
    std::vector<board::Square> marked; ///< get corners
    std::vector<Arrow> arrows;
};

/// The men and the empty board as symbols, once a page.
[[nodiscard]] Written<Html> svg_symbols();
/// One board that uses them. `number` tells the boards of a page apart.
[[nodiscard]] Written<Html> svg_board(const Drawing& drawing, std::size_t number);
/// What the board shows, in words: "White: king g1, pawns f2 and g2. Black: ... White to move."
[[nodiscard]] std::string board_in_words(const board::Setup& setup);
/// "wKg1"-like list for the page's script: symbol and square counted from the upper left corner.
[[nodiscard]] std::string men_for_script(const board::Setup& setup, board::Color below);

/// A file of its own, without a script, with its symbols and its style.
[[nodiscard]] std::string svg(const Drawing& drawing);

} // namespace report
