#include "rules/catalogue.hpp"
#include "rules/rule.hpp"
#include "rules/themes.hpp"

#include <algorithm>

namespace rules::theme {

namespace {

bool shown_by(const std::vector<motif::Evidence>& evidence, std::string_view declared) {
    return std::any_of(evidence.begin(), evidence.end(),
                       [&](const motif::Evidence& e) { return motif::supports(e.motif, declared); });
}

} // namespace

void unsupported(const PuzzleView& view, Findings& findings) {
    // A key without its line shows too little of what happens to deny a theme.
    if (!view.can_judge_play() || view.puzzle().key_only) {
        return;
    }
    for (const collection::Stated<std::string>& theme : view.puzzle().themes) {
        const ThemeMeaning meaning = meaning_of(view, theme.value);
        if (meaning.motif.empty() || shown_by(view.motifs(), meaning.motif) ||
            shown_by(view.motifs_of_sidelines(), meaning.motif)) {
            continue;
        }
        const MotifEntry* const entry = view.catalogue().motif(meaning.motif);
        Finding& finding =
            findings.add(view, theme.span, "unsupported",
                         {{"theme", theme.value}, {"summary", entry == nullptr ? "" : entry->summary}});
        std::vector<board::Move> line;
        for (const std::size_t node : view.puzzle().solution.main_line()) {
            line.push_back(view.puzzle().solution.nodes[node].move);
        }
        finding.about(meaning.motif)
            .shown(*view.position(), line)
            .mend("take the theme out, or print the line that shows it");
    }
}

} // namespace rules::theme
