#include "rules/diagram.hpp"

#include "board/fen.hpp"

namespace rules::diagram {

namespace {

std::string_view message_for(setup::Grade grade) {
    switch (grade) {
    case setup::Grade::illegal:
        return "illegal";
    case setup::Grade::field:
        return "field";
    case setup::Grade::suspicion:
        break;
    }
    return "suspicion";
}

} // namespace

void report(const PuzzleView& view, Findings& findings, setup::Rule kind) {
    for (const setup::Contradiction& contradiction : view.contradictions()) {
        if (contradiction.rule != kind) {
            continue;
        }
        Finding& finding = findings.add(view, view.puzzle().fen.span, message_for(contradiction.grade),
                                        {{"why", contradiction.why}, {"code", contradiction.code}});
        finding.about(contradiction.code).known(solve::Certainty::proved);
        finding.fen = board::write_fen(view.puzzle().reading.setup);
        if (contradiction.repaired) {
            finding.mend("write " + board::write_fen(*contradiction.repaired));
        }
    }
}

} // namespace rules::diagram
