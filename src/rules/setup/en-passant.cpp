#include "rules/diagram.hpp"

namespace rules::diagram {

void en_passant(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::en_passant);
}

} // namespace rules::diagram
