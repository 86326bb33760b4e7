#include "rules/diagram.hpp"

namespace rules::diagram {

void counters(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::counters);
}

} // namespace rules::diagram
