#include "rules/diagram.hpp"

namespace rules::diagram {

void game_over(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::game_over);
}

} // namespace rules::diagram
