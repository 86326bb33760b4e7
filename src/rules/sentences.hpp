#pragma once
// What the comments of a solution claim, each about the position after its own move.

#include "collection/phrases.hpp"
#include "rules/view.hpp"

#include <string>
#include <vector>

namespace rules {

struct Sentence {
    std::size_t node = 0;
    collection::Phrase phrase;
    collection::Span span; ///< the words, or the whole comment when their place is not known
    std::string words;     ///< as written
};

/// Claims of comments after moves that can be played. A comment that doubts, asks, names moves or claims
/// more than one thing may speak of another line, and claims nothing.
[[nodiscard]] std::vector<Sentence> sentences_of(const PuzzleView& view);

/// The box ($7, $8) stands at the node.
[[nodiscard]] bool boxed(const collection::TreeNode& node);
/// By node: the box, or the words behind the move, call it the only one.
[[nodiscard]] std::vector<bool> called_only(const PuzzleView& view);

} // namespace rules
