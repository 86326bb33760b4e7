#include "rules/diagram.hpp"

namespace rules::diagram {

void kings(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::kings);
}

} // namespace rules::diagram
