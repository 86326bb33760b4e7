#pragma once
// A word of movetext: which move it is, and what is glued to it.

#include "collection/movetext.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace collection {

/// Bytes of the blank at `at`, of any width, or of the comma that some put between moves; 0 for other things.
[[nodiscard]] std::size_t blank_length(std::string_view text, std::size_t at);

/// Behind the bracket that closes the one at `at`, or the text's end; comments are no part of it.
[[nodiscard]] std::size_t variation_end(std::string_view text, std::size_t at);

/// "or" between two moves that share what follows.
[[nodiscard]] bool joins_moves(std::string_view word);

/// The closing marker that a word is, in the standard's spelling; empty when it is none.
[[nodiscard]] std::string_view result_of(std::string_view word);

/// The man that "N~" names, in English, German or problem letters; nothing for other words.
[[nodiscard]] std::optional<board::Role> man_meant(std::string_view word);

/// "any", "~", "else", or a man's letter and "~" ("N~"): a claim about every move that is not printed.
[[nodiscard]] bool stands_for_all(std::string_view word);

/// Digits only; very large numbers are cut off.
[[nodiscard]] int number_of(std::string_view digits);

/// A word cut into move and signs. Lengths are in bytes of the word as it reads (UTF-8).
struct MoveWord {
    std::string text;      ///< the move, or what should be one
    std::size_t begin = 0; ///< of `text`: behind a number that is glued to it
    std::vector<int> glyphs;
};

/// Takes signs off the end and a number off the front until what is left is a move; else only the signs.
[[nodiscard]] MoveWord cut_word(std::string_view word, Notation notation);

/// Bytes of `raw` that `length` bytes of its UTF-8 form stand for.
[[nodiscard]] std::size_t raw_length(std::string_view raw, std::size_t length);

} // namespace collection
