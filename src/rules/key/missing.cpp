#include "rules/rule.hpp"

namespace rules::key {

void missing(const PuzzleView& view, Findings& findings) {
    const collection::Puzzle& puzzle = view.puzzle();
    // EPD may ask without a move: "dm 3" is judged by key/wrong-goal, "am" says what the solution is not.
    const bool length_given =
        view.document().format == collection::Format::epd && (puzzle.goal || puzzle.field("dm") != nullptr);
    if (!puzzle.solution.empty() || length_given || !puzzle.avoided.empty()) {
        return;
    }
    findings.add(view, puzzle.span, "missing").mend("print the solution, at least its first move");
}

} // namespace rules::key
