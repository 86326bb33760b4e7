#pragma once
// Declared themes against the catalogue's motifs: what the theme rules and the summary share.

#include "rules/facts.hpp"
#include "rules/view.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rules {

/// What a theme as written stands for. Known with neither motif nor fact: not checked.
struct ThemeMeaning {
    bool known = false;
    std::vector<std::string> motifs; ///< one of them must be shown
    std::optional<Fact> fact;
};
[[nodiscard]] ThemeMeaning meaning_of(const PuzzleView& view, std::string_view theme);

/// The theme is borne out by evidence for `motif`.
[[nodiscard]] bool covers(const ThemeMeaning& theme, std::string_view motif);
/// A declared theme names this motif, or a more general one that it supports.
[[nodiscard]] bool declares(const PuzzleView& view, std::string_view motif);
/// The main line up to its move `last`, counted from 0.
[[nodiscard]] std::vector<board::Move> main_line_to(const PuzzleView& view, std::size_t last);

} // namespace rules
