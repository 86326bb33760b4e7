#include "rules/mending.hpp"
#include "rules/rule.hpp"
#include "rules/sides.hpp"

namespace rules::turn {

void disagreement(const PuzzleView& view, Findings& findings) {
    const collection::Puzzle& puzzle = view.puzzle();
    if (!statements_disagree(puzzle) || view.caption_mistaken()) {
        return; // a caption alone against the solution: text/caption-turn
    }
    const std::optional<board::Color> supported = side_supported(view);
    // Sent to the first statement that is at odds with the FEN: mostly the one to look at.
    collection::Span span = puzzle.sides.front().span;
    for (const collection::SideStatement& side : puzzle.sides) {
        if (side.color != puzzle.sides.front().color) {
            span = side.span;
            break;
        }
    }
    if (supported) {
        Finding& finding = findings.add(
            view, span, "supported",
            {{"statements", statements_of(puzzle)}, {"side", std::string(board::name(*supported))}});
        finding.about(std::string(board::name(*supported)))
            .mend("let every statement say " + std::string(board::name(*supported)));
        Mending mending(view);
        mending.let_move(*supported);
        const bool proved = playable(puzzle, *supported).all && !playable(puzzle, !*supported).all;
        finding.fix = mending.fix(proved ? Fix::Kind::safe : Fix::Kind::suggested);
    } else {
        findings.add(view, span, "undecided", {{"statements", statements_of(puzzle)}}).about("undecided");
    }
}

} // namespace rules::turn
