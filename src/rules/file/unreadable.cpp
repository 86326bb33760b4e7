#include "rules/rule.hpp"

namespace rules::file {

void unreadable(const DocumentView& view, Findings& findings) {
    for (const collection::Fault& fault : view.document.faults) {
        if (fault.kind == collection::Fault::Kind::unreadable) {
            findings.add(view.document, fault.span, "unreadable", {{"what", fault.what}})
                .about("unreadable")
                .mend(fault.cure);
        }
    }
}

} // namespace rules::file
