#include "rules/mending.hpp"
#include "rules/rule.hpp"
#include "rules/sides.hpp"

namespace rules::turn {

void swapped(const PuzzleView& view, Findings& findings) {
    const collection::Puzzle& puzzle = view.puzzle();
    // A side that could take the king is setup/opponent-in-check, which offers the swap itself.
    if (!view.side_in_doubt() || statements_disagree(puzzle) ||
        puzzle.setup_faults.has(board::SetupFault::opponent_in_check)) {
        return;
    }
    const std::string other(board::name(!view.solver_side()));
    Finding& finding =
        findings.add(view, puzzle.sides.empty() ? puzzle.fen.span : puzzle.sides.front().span, "swapped",
                     {{"side", std::string(board::name(view.solver_side()))}, {"other", other}});
    finding.about(other).known(solve::Certainty::proved).mend("let " + other + " be to move");
    Mending mending(view);
    mending.let_move(!view.solver_side());
    // One move alone may be the slip itself; a whole line that fits is no chance.
    const bool a_line = playable(puzzle, !view.solver_side()).plies > 1;
    finding.fix = mending.fix(a_line ? Fix::Kind::safe : Fix::Kind::suggested);
}

} // namespace rules::turn
