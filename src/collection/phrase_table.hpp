#pragma once
// The compiled-in words of rules/phrases/, made ready for matching.

#include "board/result.hpp"
#include "collection/phrases.hpp"

#include <array>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace collection {

/// A place in a spelling: a word, or one of several.
struct Slot {
    enum class Kind : std::uint8_t { word, side, number, unit, thing };
    Kind kind = Kind::word;
    std::string word;
};

struct Pattern {
    PhraseKind kind = PhraseKind::side_to_move;
    std::vector<Slot> slots;
    bool opens = false; ///< may begin a longer clause: ends it, or goes on with a word of `then`
    std::vector<std::string> then;
    bool of_lines = false; ///< means nothing over a diagram
};

/// A spelling of what a slot stands for, in words.
struct Spelling {
    std::vector<std::string> words;
    int meaning = 0; ///< colour, number or unit
};

struct Language {
    std::string name;
    std::set<std::string, std::less<>> articles, fillers, doubt;
    std::array<std::vector<Spelling>, 5> spellings; ///< by Slot::Kind, longest first
    std::vector<Pattern> patterns;
};

/// Read at the first call. An error names the fault in our data.
[[nodiscard]] const board::Result<std::vector<Language>, std::string>& phrase_table();

/// The files as they are, by name; made by embed.cmake.
[[nodiscard]] std::span<const std::string_view> phrase_texts();

} // namespace collection
