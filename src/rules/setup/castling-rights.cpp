#include "rules/diagram.hpp"

namespace rules::diagram {

void castling_rights(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::castling_rights);
}

} // namespace rules::diagram
