#include "rules/rule.hpp"

#include <map>

namespace rules::set {

void duplicate_id(const CollectionView& view, Findings& findings) {
    struct First {
        const collection::Document* document;
        const collection::Puzzle* puzzle;
    };
    std::map<std::string_view, First> seen;
    for (const collection::Document* document : view.documents) {
        for (const collection::Puzzle& puzzle : document->puzzles) {
            if (!puzzle.id_stated) {
                continue;
            }
            const auto [first, fresh] = seen.try_emplace(puzzle.id.value, First{document, &puzzle});
            if (!fresh) {
                const collection::Place place =
                    first->second.document->place(first->second.puzzle->id.span.begin);
                findings
                    .add(*document, puzzle, puzzle.id.span, "duplicate",
                         {{"id", puzzle.id.value},
                          {"file", first->second.document->path},
                          {"line", std::to_string(place.line)}})
                    .about(puzzle.id.value)
                    .known(solve::Certainty::proved)
                    .mend("give one of them another id");
            }
        }
    }
}

} // namespace rules::set
