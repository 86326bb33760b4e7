#pragma once
// The theme that a misspelt one was meant to be.

#include "rules/view.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace rules {

struct Spelling {
    std::string text;  ///< as the catalogue or the configuration writes it
    bool sure = false; ///< only blanks and hyphens differ, or one letter of five and more
};

/// The one nearest spelling of a theme nobody knows; nothing when two things are as near.
[[nodiscard]] std::optional<Spelling> spelling_of(const PuzzleView& view, std::string_view theme);

} // namespace rules
