#include "board/fen.hpp"
#include "rules/rule.hpp"
#include "setup/retract.hpp"

#include "board/attacks.hpp"

#include <fmt/format.h>

namespace rules::set {

namespace {

/// When the field is filled after a double step: always (PGN standard 16.1.3.4), when a pawn stands ready to
/// take, or when the capture is legal. Which of these a puzzle may have been written by.
enum Custom : unsigned { always = 1, ready = 2, legal = 4, any = 7 };

bool pawn_stands_ready(const board::Setup& diagram, board::Square passed) {
    return (board::pawn_attacks(!diagram.turn, passed) & diagram.pieces(diagram.turn, board::Role::pawn))
        .any();
}

bool can_be_taken(board::Setup diagram, board::Square passed) {
    diagram.en_passant = passed;
    const auto position = board::Position::from(diagram);
    return position && position->en_passant();
}

/// A field that contradicts the diagram tells nothing.
unsigned customs_of_filled(const collection::Puzzle& puzzle) {
    const board::Setup& diagram = puzzle.reading.setup;
    if (!puzzle.position || puzzle.setup_faults.has(board::SetupFault::en_passant) || !diagram.en_passant) {
        return any;
    }
    return can_be_taken(diagram, *diagram.en_passant)        ? any
           : pawn_stands_ready(diagram, *diagram.en_passant) ? always | ready
                                                             : always;
}

/// Tells something only where the last move is sure; what setup/en-passant reports is left to it.
unsigned customs_of_empty(const collection::Puzzle& puzzle, board::Square passed) {
    const board::Setup& diagram = puzzle.reading.setup;
    return can_be_taken(diagram, passed) ? any : pawn_stands_ready(diagram, passed) ? legal : ready | legal;
}

bool leaves_men_out(const collection::Puzzle& puzzle) {
    return puzzle.field("position") != nullptr;
}

struct Filled {
    const collection::Document* document = nullptr;
    const collection::Puzzle* puzzle = nullptr;
    unsigned customs = any;
};

/// The filled field that fewest customs explain, the first of them.
Filled most_telling(const CollectionView& view) {
    Filled telling;
    for (const collection::Document* document : view.documents) {
        for (const collection::Puzzle& puzzle : document->puzzles) {
            const unsigned customs = customs_of_filled(puzzle);
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
            if (!puzzle.position || puzzle.lead_in || diagram.en_passant || diagram.home.is_shuffled() ||
                leaves_men_out(puzzle)) {
                continue;
            }
            const auto passed = setup::proved_double_step(puzzle.position->setup());
            if (!passed || (customs_of_empty(puzzle, *passed) & filled.customs) != 0) {
                continue;
            }
            const collection::Place place = filled.document->place(filled.puzzle->span.begin);
            Finding& finding = findings.add(*document, puzzle, puzzle.fen.span, "mixed",
                                            {{"square", std::string(board::name(*passed))},
                                             {"id", filled.puzzle->id.value},
                                             {"file", filled.document->path},
                                             {"line", std::to_string(place.line)}});
            finding.about("mixed")
                .known(solve::Certainty::proved)
                .mend(fmt::format("write {} here, or - in {}: after one custom throughout",
                                  board::name(*passed), filled.puzzle->id.value));
            finding.fen = board::write_fen(diagram);
            return; // once is enough
        }
    }
}

} // namespace rules::set
