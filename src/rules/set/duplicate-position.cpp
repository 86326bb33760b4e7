#include "board/fen.hpp"
#include "rules/marks.hpp"
#include "rules/rule.hpp"

#include <map>

namespace rules::set {

void duplicate_position(const CollectionView& view, Findings& findings) {
    struct First {
        const collection::Document* document;
        const collection::Puzzle* puzzle;
    };
    std::map<std::string, First> seen;
    for (const collection::Document* document : view.documents) {
        for (const collection::Puzzle& puzzle : document->puzzles) {
            if (!puzzle.position) {
                continue;
            }
            const auto [first, fresh] =
                seen.try_emplace(normal_form(*puzzle.position), First{document, &puzzle});
            if (!fresh) {
                const collection::Place place =
                    first->second.document->place(first->second.puzzle->span.begin);
                Finding& finding = findings.add(*document, puzzle, puzzle.fen.span, "duplicate",
                                                {{"id", first->second.puzzle->id.value},
                                                 {"file", first->second.document->path},
                                                 {"line", std::to_string(place.line)}});
                finding.about(first->second.puzzle->id.value)
                    .known(solve::Certainty::proved)
                    .mend("take one of them out, or say why both are wanted with an allowance");
                finding.fen = board::write_fen(puzzle.position->setup());
            }
        }
    }
}

} // namespace rules::set
