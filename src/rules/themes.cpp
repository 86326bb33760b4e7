#include "rules/themes.hpp"

#include "rules/catalogue.hpp"

#include <algorithm>

namespace rules {

ThemeMeaning meaning_of(const PuzzleView& view, std::string_view theme) {
    const auto own = view.settings().themes.find(folded(theme));
    if (own != view.settings().themes.end()) {
        return {true, own->second};
    }
    const std::optional<std::string> motif = view.catalogue().motif_of(theme);
    return motif ? ThemeMeaning{true, *motif} : ThemeMeaning{};
}

bool declares(const PuzzleView& view, std::string_view motif) {
    const auto& themes = view.puzzle().themes;
    return std::any_of(themes.begin(), themes.end(), [&](const collection::Stated<std::string>& theme) {
        const ThemeMeaning meaning = meaning_of(view, theme.value);
        return !meaning.motif.empty() && motif::supports(motif, meaning.motif);
    });
}

} // namespace rules
