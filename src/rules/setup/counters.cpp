#include "rules/diagram.hpp"

#include <fmt/format.h>

namespace rules::diagram {

namespace {

/// F3: the move number leaves no time to get there. Only when asked for: many a diagram's number is a dummy.
void judge_pace(const PuzzleView& view, Findings& findings) {
    const board::FenReading& reading = view.puzzle().reading;
    if (!reading.usable || reading.setup.fullmove <= 1 || view.option("setup/counters", "pace") != "yes") {
        return;
    }
    for (const board::Color color : {board::Color::white, board::Color::black}) {
        const bool has_moved = color == board::Color::white && reading.setup.turn == board::Color::black;
        const int made = reading.setup.fullmove - (has_moved ? 0 : 1);
        const int needed = setup::fewest_moves(reading.setup, color);
        if (needed > made) {
            Finding& finding = findings.add(view, view.puzzle().fen.span, "early",
                                            {{"side", color == board::Color::white ? "White" : "Black"},
                                             {"needed", std::to_string(needed)},
                                             {"made", std::to_string(made)}});
            finding.about(fmt::format("F3 {}", board::name(color))).known(solve::Certainty::proved);
            finding.fen = board::write_fen(reading.setup);
        }
    }
}

} // namespace

void counters(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::counters);
    judge_pace(view, findings);
}

} // namespace rules::diagram
