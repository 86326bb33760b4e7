#pragma once
// Printed annotation signs and their numbers.

#include <string_view>
#include <vector>

namespace collection {

/// What stands behind a move: the signs' numbers and how many bytes of the word they take.
struct Suffix {
    std::vector<int> glyphs; ///< in printed order
    std::size_t length = 0;
};

/// Suffixes of the standard (8.2.3.8) and signs of the Informant code that are no part of any move's text.
[[nodiscard]] Suffix read_suffix(std::string_view word);
/// The same for signs made of + - / =, which could also belong to the move: ask only when the word is no
/// move.
[[nodiscard]] Suffix read_evaluation(std::string_view word);
/// The suffix of a glyph from 1 to 6: "!" to "?!"; empty for others.
[[nodiscard]] std::string_view suffix_of(int glyph);
/// A word that says nothing a linter can hold against the board: "N" (novelty), "mate", "ch".
[[nodiscard]] bool is_remark(std::string_view word);

} // namespace collection
