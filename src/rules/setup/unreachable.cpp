#include "rules/diagram.hpp"

namespace rules::diagram {

void unreachable(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::unreachable);
}

} // namespace rules::diagram
