#include "rules/en_passant_custom.hpp"

#include "board/attacks.hpp"
#include "setup/retract.hpp"

namespace rules {

namespace {

bool pawn_stands_ready(const board::Setup& diagram, board::Square passed) {
    return (board::pawn_attacks(!diagram.turn, passed) & diagram.pieces(diagram.turn, board::Role::pawn))
        .any();
}

bool can_be_taken(board::Setup diagram, board::Square passed) {
    diagram.en_passant = passed;
    const auto position = board::Position::from(diagram);
    return position && position->en_passant();
}

unsigned customs_of_filled(const board::Setup& diagram, board::Square passed) {
    return can_be_taken(diagram, passed)        ? any_custom
           : pawn_stands_ready(diagram, passed) ? always | ready
                                                : always;
}

/// Where the capture is legal, setup/en-passant reports it.
unsigned customs_of_empty(const board::Setup& diagram, board::Square passed) {
    return can_be_taken(diagram, passed)        ? any_custom
           : pawn_stands_ready(diagram, passed) ? legal
                                                : ready | legal;
}

} // namespace

unsigned customs_of(const collection::Puzzle& puzzle) {
    const board::Setup& diagram = puzzle.reading.setup;
    if (!puzzle.position) {
        return any_custom;
    }
    if (diagram.en_passant) {
        return puzzle.setup_faults.has(board::SetupFault::en_passant)
                   ? any_custom
                   : customs_of_filled(diagram, *diagram.en_passant);
    }
    const bool leaves_men_out = puzzle.field("position") != nullptr;
    if (puzzle.lead_in || diagram.home.is_shuffled() || leaves_men_out) {
        return any_custom;
    }
    const auto passed = setup::proved_double_step(puzzle.position->setup());
    return passed ? customs_of_empty(diagram, *passed) : any_custom;
}

} // namespace rules
