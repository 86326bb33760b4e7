#include "rules/check.hpp"
#include "rules/rule.hpp"

#include <algorithm>

namespace rules::file {

namespace {

/// The rule ran on this puzzle to the end: only then is its silence worth anything.
bool has_spoken(const PuzzleView& view, std::span<const Finding> found, const RuleEntry& entry) {
    const Rule* const rule = find_rule(entry.id);
    const bool open =
        std::any_of(found.begin(), found.end(), [](const Finding& f) { return f.rule == "key/open"; });
    return rule != nullptr && std::holds_alternative<PuzzleRule>(rule->check) && !open &&
           level_of(entry, view.settings()).first != Severity::off;
}

} // namespace

void unused_allowance(const PuzzleView& view, std::span<const Finding> found, Findings& findings) {
    for (const collection::Allowance& allowance : view.puzzle().allowances) {
        const RuleEntry* const entry = view.catalogue().rule(allowance.rule);
        if (entry == nullptr) {
            std::string cure;
            for (const std::string& near : view.catalogue().near(allowance.rule)) {
                cure += (cure.empty() ? "did you mean " : " or ") + near;
            }
            findings.add(view, allowance.span, "unknown", {{"rule", allowance.rule}})
                .about(allowance.rule)
                .mend(cure);
            continue;
        }
        const bool used = std::any_of(found.begin(), found.end(),
                                      [&](const Finding& f) { return f.rule == allowance.rule; });
        if (!used && has_spoken(view, found, *entry)) {
            findings.add(view, allowance.span, "unused", {{"rule", allowance.rule}})
                .about(allowance.rule)
                .mend("take it out");
        }
    }
}

} // namespace rules::file
