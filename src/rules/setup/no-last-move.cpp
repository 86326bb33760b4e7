#include "rules/diagram.hpp"

namespace rules::diagram {

void no_last_move(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::no_last_move);
}

} // namespace rules::diagram
