#include "rules/diagram.hpp"

#include "board/fen.hpp"
#include "rules/mending.hpp"

#include <fmt/format.h>

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

/// What to do about it; empty when more than one thing would do.
std::string cure_for(const setup::Contradiction& contradiction, const board::Setup& diagram) {
    if (contradiction.code == "K1" && contradiction.squares.empty()) {
        return "add the king, or state position: partial if men are left out on purpose";
    }
    if (!contradiction.repaired) {
        return {};
    }
    const board::Setup& repaired = *contradiction.repaired;
    const std::string fen = "write " + board::write_fen(repaired);
    return repaired.turn == diagram.turn
               ? fen
               : fmt::format("with {} to move nothing speaks against the diagram: {}", name(repaired.turn),
                             fen);
}

/// Safe where only a field beside the placement gives way that no printed move leans on.
std::optional<Fix> fix_for(const PuzzleView& view, const setup::Contradiction& contradiction) {
    const collection::Puzzle& puzzle = view.puzzle();
    if (!contradiction.repaired || puzzle.lead_in) {
        return std::nullopt;
    }
    Mending mending(view);
    mending.replace_fen_fields(*contradiction.repaired);
    const bool same_meaning = contradiction.repaired->turn == puzzle.reading.setup.turn &&
                              contradiction.grade == setup::Grade::field &&
                              all_can_be_played(puzzle.solution);
    return mending.fix(same_meaning ? Fix::Kind::safe : Fix::Kind::suggested);
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
        finding.squares = contradiction.squares;
        finding.mend(cure_for(contradiction, view.puzzle().reading.setup));
        finding.fix = fix_for(view, contradiction);
    }
}

} // namespace rules::diagram
