#include "rules/diagram.hpp"

namespace rules::diagram {

void too_many_pieces(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::too_many_pieces);
}

} // namespace rules::diagram
