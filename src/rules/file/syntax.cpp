#include "rules/rule.hpp"

namespace rules::file {

namespace {

using collection::Fault;

std::string_view message_for(Fault::Kind kind) {
    switch (kind) {
    case Fault::Kind::limit:
        return "limit";
    case Fault::Kind::field:
        return "field";
    case Fault::Kind::encoding:
        return "encoding";
    case Fault::Kind::stray:
        return "stray";
    case Fault::Kind::variant:
        return "variant";
    case Fault::Kind::syntax:
    case Fault::Kind::unreadable:
        break;
    }
    return "syntax";
}

void report_fen(const DocumentView& view, const collection::Puzzle& puzzle, Findings& findings) {
    for (const board::FenFault& fault : puzzle.reading.faults) {
        const collection::Span span{puzzle.fen.span.begin + fault.begin, puzzle.fen.span.begin + fault.end};
        findings
            .add(view.document, puzzle, span, fault.kind == board::FenFaultKind::style ? "fen_style" : "fen",
                 {{"what", fault.what}})
            .about(fault.what);
    }
}

} // namespace

void syntax(const DocumentView& view, Findings& findings) {
    for (const Fault& fault : view.document.faults) {
        if (fault.kind != Fault::Kind::unreadable) {
            findings.add(view.document, fault.span, message_for(fault.kind), {{"what", fault.what}})
                .about(fault.what)
                .mend(fault.cure);
        }
    }
    for (const collection::Puzzle& puzzle : view.document.puzzles) {
        for (const Fault& fault : puzzle.faults) {
            findings.add(view.document, puzzle, fault.span, message_for(fault.kind), {{"what", fault.what}})
                .about(fault.what)
                .mend(fault.cure);
        }
        report_fen(view, puzzle, findings);
    }
}

} // namespace rules::file
