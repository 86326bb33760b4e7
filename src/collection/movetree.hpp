#pragma once
// A solution: main line, sidelines, tries, glyphs and comments. One reader for all formats (PGN movetext).

#include "board/position.hpp"
#include "collection/span.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace collection {

enum class MoveStatus : std::uint8_t {
    legal,
    illegal,    ///< a move's text, but no legal move here fits
    ambiguous,  ///< more than one legal move fits
    unreadable, ///< no move's text (another language, a word)
    null,       ///< "--": a pass, allowed in comments only
    any,        ///< "any", "~", "N~": every other move, said to change nothing
    unchecked,  ///< stands behind a move that could not be played
};

/// A move number as printed: "12." or "12...".
struct NumberMark {
    int number = 0;
    bool black = false; ///< three dots
    Span span;
};

struct Comment {
    std::string text;
    Span span;
};

struct TreeNode {
    std::size_t parent = 0;
    std::vector<std::size_t> children; ///< in printed order; the first continues the line this node is in
    std::string text;                  ///< the move as written, without suffix glyph and number
    Span span;                         ///< of `text`
    board::Move move;                  ///< valid when status is legal
    MoveStatus status = MoveStatus::legal;
    std::vector<int> glyphs; ///< numeric annotation glyphs; "!" is 1 ... "?!" is 6
    std::optional<NumberMark> number;
    bool alike = false;            ///< behind "or": shares what follows the first move at this point
    std::vector<Comment> comments; ///< after the move; on the root: before the first move
};

/// nodes[0] is the root: the diagram, no move of its own.
struct MoveTree {
    std::vector<TreeNode> nodes{1};
    std::optional<Stated<std::string>> result; ///< closing marker: 1-0, 0-1, 1/2-1/2, *

    [[nodiscard]] bool empty() const { return nodes.size() <= 1; }
    /// First children from `node` on (not included), legal moves only, up to the first move that cannot be
    /// played.
    [[nodiscard]] std::vector<std::size_t> main_line(std::size_t node = 0) const;
    /// Legal moves from the root to `node`, `node` included.
    [[nodiscard]] std::vector<board::Move> moves_to(std::size_t node) const;
    /// Distance from the root in plies.
    [[nodiscard]] std::size_t depth(std::size_t node) const;
    /// Position after `node`; every move on the way must be legal.
    [[nodiscard]] board::Position position_at(const board::Position& start, std::size_t node) const;
    /// "?", "??" or $2, $4, "?!": a try, said to fail.
    [[nodiscard]] bool marked_as_failing(std::size_t node) const;
    /// Behind the first move at its point, and its line ends with the other side's move or is said there not
    /// to be good for `color`: printed to show that it fails, though nothing marks it.
    [[nodiscard]] bool shown_to_fail(std::size_t node, board::Color color) const;
};

} // namespace collection
