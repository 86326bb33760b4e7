#include "board/fen.hpp"
#include "rules/en_passant_custom.hpp"
#include "rules/rule.hpp"
#include "setup/retract.hpp"

#include <fmt/format.h>

namespace rules::set {

namespace {

struct Filled {
    const collection::Document* document = nullptr;
    const collection::Puzzle* puzzle = nullptr;
    unsigned customs = any_custom;
};

/// The filled field that fewest customs explain, the first of them.
Filled most_telling(const CollectionView& view) {
    Filled telling;
    for (const collection::Document* document : view.documents) {
        for (const collection::Puzzle& puzzle : document->puzzles) {
            if (!puzzle.reading.setup.en_passant) {
                continue;
            }
            const unsigned customs = customs_of(puzzle);
            if (customs < telling.customs) {
                telling = {document, &puzzle, customs};
            }
        }
    }
    return telling;
}

} // namespace

void en_passant_field(const CollectionView& view, Findings& findings) {
    const Filled filled = most_telling(view);
    if (filled.puzzle == nullptr) {
        return;
    }
    for (const collection::Document* document : view.documents) {
        for (const collection::Puzzle& puzzle : document->puzzles) {
            const board::Setup& diagram = puzzle.reading.setup;
            if (diagram.en_passant || (customs_of(puzzle) & filled.customs) != 0) {
                continue;
            }
            const auto passed = setup::proved_double_step(puzzle.position->setup());
            const collection::Place place = filled.document->place(filled.puzzle->span.begin);
            Finding& finding = findings.add(*document, puzzle, puzzle.fen.span, "mixed",
                                            {{"square", std::string(board::name(passed.value()))},
                                             {"id", filled.puzzle->id.value},
                                             {"file", filled.document->path},
                                             {"line", std::to_string(place.line)}});
            finding.about("mixed")
                .known(solve::Certainty::proved)
                .mend(fmt::format("write {} here, or - in {}: after one custom throughout",
                                  board::name(passed.value()), filled.puzzle->id.value));
            finding.fen = board::write_fen(diagram);
            return; // once is enough
        }
    }
}

} // namespace rules::set
