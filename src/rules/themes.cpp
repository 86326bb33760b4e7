#include "rules/themes.hpp"

#include "rules/catalogue.hpp"

#include <algorithm>

namespace rules {
namespace {

ThemeMeaning trade_meaning(const PuzzleView& view, std::string_view theme) {
    if (const auto motif = view.catalogue().motif_of(theme)) {
        const bool checked = view.catalogue().motif(*motif)->checked;
        return {true, checked ? std::vector{*motif} : std::vector<std::string>(), std::nullopt};
    }
    const std::optional<Fact> fact = fact_of(theme);
    return {fact.has_value(), {}, fact};
}

} // namespace

ThemeMeaning meaning_of(const PuzzleView& view, std::string_view theme) {
    const auto own = view.settings().themes.find(folded(theme));
    if (own == view.settings().themes.end()) {
        return trade_meaning(view, theme);
    }
    ThemeMeaning meaning{true, {}, std::nullopt};
    for (const std::string& word : own->second) {
        const ThemeMeaning one = trade_meaning(view, word);
        meaning.motifs.insert(meaning.motifs.end(), one.motifs.begin(), one.motifs.end());
        meaning.fact = one.fact ? one.fact : meaning.fact;
    }
    return meaning;
}

bool covers(const ThemeMeaning& theme, std::string_view motif) {
    return std::any_of(theme.motifs.begin(), theme.motifs.end(),
                       [&](const std::string& declared) { return motif::supports(motif, declared); });
}

bool declares(const PuzzleView& view, std::string_view motif) {
    const auto& themes = view.puzzle().themes;
    return std::any_of(themes.begin(), themes.end(), [&](const collection::Stated<std::string>& theme) {
        return covers(meaning_of(view, theme.value), motif);
    });
}

std::vector<board::Move> main_line_to(const PuzzleView& view, std::size_t last) {
    std::vector<board::Move> line;
    for (const std::size_t node : view.puzzle().solution.main_line()) {
        if (line.size() > last) {
            break;
        }
        line.push_back(view.puzzle().solution.nodes[node].move);
    }
    return line;
}

} // namespace rules
