#include "rules/diagram.hpp"

namespace rules::diagram {

void opponent_in_check(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::opponent_in_check);
}

} // namespace rules::diagram
