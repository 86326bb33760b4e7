#include "rules/catalogue.hpp"
#include "rules/rule.hpp"
#include "rules/themes.hpp"

#include <algorithm>

namespace rules::theme {

namespace {

using Evidences = std::vector<motif::Evidence>;

bool shown_by(const Evidences& evidences, const ThemeMeaning& theme) {
    return std::any_of(evidences.begin(), evidences.end(),
                       [&](const motif::Evidence& evidence) { return covers(theme, evidence.motif); });
}

/// What the main line shows of the same family: a fork, though no royal one.
const motif::Evidence* relative_of(const Evidences& evidences, std::string_view motif) {
    const auto found = std::find_if(evidences.begin(), evidences.end(), [&](const motif::Evidence& evidence) {
        return evidence.level != motif::Level::seen && motif::related(evidence.motif, motif);
    });
    return found == evidences.end() ? nullptr : &*found;
}

void report_motif(const PuzzleView& view, const collection::Stated<std::string>& theme,
                  const MotifEntry& entry, Findings& findings) {
    const motif::Evidence* const relative = relative_of(view.motifs(), entry.motif);
    const MotifEntry* const shown = relative == nullptr ? nullptr : view.catalogue().motif(relative->motif);
    Finding& finding =
        shown == nullptr
            ? findings.add(view, theme.span, "unsupported",
                           {{"theme", theme.value}, {"summary", entry.summary}})
            : findings.add(view, theme.span, "other-kind",
                           {{"theme", theme.value}, {"name", shown->name}, {"why", relative->why}});
    const std::size_t last = shown == nullptr ? view.puzzle().solution.nodes.size() : relative->ply;
    finding.about(entry.motif)
        .shown(*view.position(), main_line_to(view, last))
        .mend(shown == nullptr ? "take the theme out, or print the line that shows it"
                               : "name it '" + shown->name + "'");
}

void report_fact(const PuzzleView& view, const collection::Stated<std::string>& theme, const Fact& fact,
                 Findings& findings) {
    const FactVerdict verdict = judge_fact(view, fact);
    if (verdict.answer != solve::Answer::no) {
        return;
    }
    findings.add(view, theme.span, "fact", {{"theme", theme.value}, {"why", verdict.why}})
        .about(folded(theme.value))
        .known(solve::Certainty::proved)
        .shown(*view.position(), main_line_to(view, view.puzzle().solution.nodes.size()))
        .mend("correct the theme or take it out");
}

} // namespace

void unsupported(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play()) {
        return;
    }
    for (const collection::Stated<std::string>& theme : view.puzzle().themes) {
        const ThemeMeaning meaning = meaning_of(view, theme.value);
        if (meaning.fact) {
            report_fact(view, theme, *meaning.fact, findings);
            continue;
        }
        // A key without its line shows too little of what happens to deny a motif.
        if (meaning.motifs.empty() || view.puzzle().key_only || shown_by(view.motifs(), meaning) ||
            shown_by(view.motifs_of_sidelines(), meaning) ||
            shown_by(view.motifs_of_problem_play(), meaning)) {
            continue;
        }
        if (const MotifEntry* const entry = view.catalogue().motif(meaning.motifs.front())) {
            report_motif(view, theme, *entry, findings);
        }
    }
}

} // namespace rules::theme
