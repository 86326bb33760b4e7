#include "collection/movetree.hpp"

#include <algorithm>

namespace collection {

std::vector<std::size_t> MoveTree::main_line(std::size_t node) const {
    std::vector<std::size_t> line;
    while (!nodes[node].children.empty()) {
        node = nodes[node].children.front();
        if (nodes[node].status != MoveStatus::legal) {
            break;
        }
        line.push_back(node);
    }
    return line;
}

std::vector<board::Move> MoveTree::moves_to(std::size_t node) const {
    std::vector<board::Move> moves;
    for (; node != 0; node = nodes[node].parent) {
        moves.push_back(nodes[node].move);
    }
    std::reverse(moves.begin(), moves.end());
    return moves;
}

std::size_t MoveTree::depth(std::size_t node) const {
    std::size_t plies = 0;
    for (; node != 0; node = nodes[node].parent) {
        ++plies;
    }
    return plies;
}

board::Position MoveTree::position_at(const board::Position& start, std::size_t node) const {
    board::Position position = start;
    for (const board::Move move : moves_to(node)) {
        position.make(move);
    }
    return position;
}

bool MoveTree::marked_as_failing(std::size_t node) const {
    const std::vector<int>& glyphs = nodes[node].glyphs;
    return std::any_of(glyphs.begin(), glyphs.end(),
                       [](int glyph) { return glyph == 2 || glyph == 4 || glyph == 6; });
}

namespace {

/// "=", "unclear", or better for the other side: $10 to $13, then odd glyphs for White and even ones for
/// Black.
bool is_no_success(int glyph, board::Color color) {
    constexpr int first_for_white = 14;
    constexpr int last_for_black = 21;
    const bool for_black = glyph % 2 == 1;
    return (glyph >= 10 && glyph < first_for_white) || (glyph >= first_for_white && glyph <= last_for_black &&
                                                        for_black == (color == board::Color::white));
}

} // namespace

bool MoveTree::shown_to_fail(std::size_t node, board::Color color) const {
    if (node == 0 || nodes[nodes[node].parent].children.front() == node) {
        return false;
    }
    std::vector<std::size_t> line = main_line(node);
    const bool answered = line.size() % 2 == 1;
    line.push_back(node);
    return answered || std::any_of(line.begin(), line.end(), [&](std::size_t at) {
               const std::vector<int>& glyphs = nodes[at].glyphs;
               return std::any_of(glyphs.begin(), glyphs.end(),
                                  [&](int glyph) { return is_no_success(glyph, color); });
           });
}

} // namespace collection
