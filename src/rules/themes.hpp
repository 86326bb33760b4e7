#pragma once
// Declared themes against the catalogue's motifs: what the theme rules and the summary share.

#include "rules/view.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace rules {

/// What a theme as written stands for.
struct ThemeMeaning {
    bool known = false;
    std::string motif; ///< empty: known by the configuration, not checked
};
[[nodiscard]] ThemeMeaning meaning_of(const PuzzleView& view, std::string_view theme);

/// A declared theme names this motif, or a more general one that it supports.
[[nodiscard]] bool declares(const PuzzleView& view, std::string_view motif);

} // namespace rules
