#include "rules/catalogue.hpp"
#include "rules/mending.hpp"
#include "rules/rule.hpp"
#include "rules/spelling.hpp"
#include "rules/themes.hpp"

namespace rules::theme {

void unknown(const PuzzleView& view, Findings& findings) {
    for (const collection::Stated<std::string>& theme : view.puzzle().themes) {
        if (meaning_of(view, theme.value).known) {
            continue;
        }
        std::vector<std::string> names;
        for (const MotifEntry& motif : view.catalogue().motifs()) {
            names.push_back(motif.name);
        }
        std::string cure;
        for (const std::string& near : nearest(folded(theme.value), names)) {
            cure += (cure.empty() ? "did you mean '" : " or '") + near + "'";
        }
        Finding& finding = findings.add(view, theme.span, "unknown", {{"theme", theme.value}});
        finding.about(theme.value)
            .mend(cure.empty()
                      ? "name a motif of the catalogue, or list the word under `themes:` in the configuration"
                      : cure);
        if (const auto spelling = spelling_of(view, theme.value)) {
            Mending mending(view);
            mending.replace(theme.span, theme.value, spelling->text);
            finding.fix = mending.fix(spelling->sure ? Fix::Kind::safe : Fix::Kind::suggested);
        }
    }
}

} // namespace rules::theme
