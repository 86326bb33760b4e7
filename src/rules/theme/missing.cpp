#include "rules/catalogue.hpp"
#include "rules/mending.hpp"
#include "rules/rule.hpp"
#include "rules/themes.hpp"

#include <algorithm>

namespace rules::theme {

namespace {

/// Strong enough to be suggested: it works within the first two solver's moves, or nothing works without it.
bool is_strong(const motif::Evidence& evidence) {
    return evidence.level == motif::Level::decisive ||
           (evidence.level == motif::Level::functional && evidence.ply <= 2);
}

/// A declared theme is of the same family: theme/unsupported says which kind it is.
bool declares_kin(const PuzzleView& view, std::string_view motif) {
    const auto& themes = view.puzzle().themes;
    return std::any_of(themes.begin(), themes.end(), [&](const collection::Stated<std::string>& theme) {
        const std::vector<std::string> motifs = meaning_of(view, theme.value).motifs;
        return std::any_of(motifs.begin(), motifs.end(),
                           [&](const std::string& declared) { return motif::related(declared, motif); });
    });
}

} // namespace

void missing(const PuzzleView& view, Findings& findings) {
    const bool tagged = !view.puzzle().themes.empty();
    if (!view.can_judge_play() || (!tagged && view.option("theme/missing", "untagged") != "yes")) {
        return; // a collection without themes does not want to be told of each
    }
    const auto& motifs = view.motifs();
    const auto is_main = [](const motif::Evidence& evidence) {
        return evidence.strength == motif::Strength::main && is_strong(evidence);
    };
    const bool found = std::any_of(motifs.begin(), motifs.end(), [&](const motif::Evidence& evidence) {
        return evidence.strength == motif::Strength::main && declares_kin(view, evidence.motif);
    });
    const auto first = std::max_element(motifs.begin(), motifs.end(), [&](const auto& a, const auto& b) {
        return is_main(a) != is_main(b) ? is_main(b) : is_main(a) && a.level < b.level;
    });
    if (found || first == motifs.end() || !is_main(*first)) {
        return;
    }
    const MotifEntry* const entry = view.catalogue().motif(first->motif);
    if (entry == nullptr) {
        return;
    }
    const collection::Span span = tagged ? view.puzzle().themes.front().span : view.key_span();
    Finding& finding = findings.add(view, span, "missing", {{"name", entry->name}, {"why", first->why}});
    finding.about(first->motif)
        .known(first->certainty)
        .shown(*view.position(), main_line_to(view, first->ply))
        .mend("add the theme '" + entry->name + "'");
    if (tagged && view.document().format != collection::Format::table) { // a table has a separator of its own
        const collection::Stated<std::string>& last = view.puzzle().themes.back();
        Mending mending(view);
        mending.replace(last.span, last.value, last.value + ", " + entry->name);
        finding.fix = mending.fix(Fix::Kind::suggested);
    }
}

} // namespace rules::theme
