#include "rules/diagram.hpp"

namespace rules::diagram {

void impossible_check(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::impossible_check);
}

} // namespace rules::diagram
