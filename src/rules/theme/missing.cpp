#include "rules/catalogue.hpp"
#include "rules/rule.hpp"
#include "rules/themes.hpp"

namespace rules::theme {

namespace {

/// Strong enough to be suggested: it works within the first two solver's moves, or nothing works without it.
bool is_strong(const motif::Evidence& evidence) {
    return evidence.level == motif::Level::decisive ||
           (evidence.level == motif::Level::functional && evidence.ply <= 2);
}

} // namespace

void missing(const PuzzleView& view, Findings& findings) {
    const bool tagged = !view.puzzle().themes.empty();
    if (!view.can_judge_play() || (!tagged && view.option("theme/missing", "untagged") != "yes")) {
        return; // a collection without themes does not want to be told of each
    }
    for (const motif::Evidence& evidence : view.motifs()) {
        const MotifEntry* const entry = view.catalogue().motif(evidence.motif);
        if (entry == nullptr || evidence.ply % 2 != 0 || !is_strong(evidence) ||
            declares(view, evidence.motif)) {
            continue;
        }
        std::vector<board::Move> line;
        for (const std::size_t node : view.puzzle().solution.main_line()) {
            line.push_back(view.puzzle().solution.nodes[node].move);
            if (line.size() > evidence.ply) {
                break;
            }
        }
        const collection::Span span = tagged ? view.puzzle().themes.front().span : view.key_span();
        findings.add(view, span, "missing", {{"name", entry->name}, {"why", evidence.why}})
            .about(evidence.motif)
            .known(evidence.certainty)
            .shown(*view.position(), line)
            .mend("add the theme '" + entry->name + "'");
    }
}

} // namespace rules::theme
