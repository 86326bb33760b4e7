#include "rules/catalogue.hpp"
#include "rules/rule.hpp"
#include "rules/themes.hpp"

#include <algorithm>

namespace rules::theme {

namespace {

/// Main evidence for the theme; nullptr when it names something else.
const motif::Evidence* main_evidence(const PuzzleView& view, std::string_view theme) {
    const ThemeMeaning meaning = meaning_of(view, theme);
    const auto& motifs = view.motifs();
    const auto found = std::find_if(motifs.begin(), motifs.end(), [&](const motif::Evidence& evidence) {
        return evidence.strength == motif::Strength::main && covers(meaning, evidence.motif);
    });
    return found == motifs.end() ? nullptr : &*found;
}

} // namespace

void order(const PuzzleView& view, Findings& findings) {
    const auto& themes = view.puzzle().themes;
    if (!view.can_judge_play() || themes.size() < 2 || main_evidence(view, themes.front().value) != nullptr) {
        return;
    }
    for (const collection::Stated<std::string>& theme : themes) {
        const motif::Evidence* const evidence = main_evidence(view, theme.value);
        if (evidence == nullptr) {
            continue;
        }
        findings
            .add(view, theme.span, "order",
                 {{"theme", theme.value}, {"first", themes.front().value}, {"why", evidence->why}})
            .about(evidence->motif)
            .known(evidence->certainty)
            .shown(*view.position(), main_line_to(view, evidence->ply))
            .mend("put '" + theme.value + "' first");
        return;
    }
}

} // namespace rules::theme
