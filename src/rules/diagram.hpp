#pragma once
// What the rules of the family setup/ share: each speaks of one kind of contradiction.

#include "rules/rule.hpp"

namespace rules::diagram {

/// Reports the contradictions of one kind with the message ids `illegal`, `field` and `suspicion`, by grade.
void report(const PuzzleView& view, Findings& findings, setup::Rule kind);

} // namespace rules::diagram
