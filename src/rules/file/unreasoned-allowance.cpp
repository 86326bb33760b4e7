#include "rules/rule.hpp"

namespace rules::file {

void unreasoned_allowance(const PuzzleView& view, Findings& findings) {
    for (const collection::Allowance& allowance : view.puzzle().allowances) {
        if (allowance.why.empty()) {
            findings.add(view, allowance.span, "unreasoned", {{"rule", allowance.rule}})
                .about(allowance.rule)
                .mend("write why: it is what the next editor needs");
        }
    }
}

} // namespace rules::file
