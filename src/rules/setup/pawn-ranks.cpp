#include "rules/diagram.hpp"

namespace rules::diagram {

void pawn_ranks(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::pawn_ranks);
}

} // namespace rules::diagram
