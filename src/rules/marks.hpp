#pragma once
// What rules about the whole recognise a puzzle by. They speak of puzzles that share a mark and of no others,
// so that a run reads again only files that do; a rule that tells likeness by something else adds a mark for
// it.

#include "collection/document.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace rules {

using Mark = std::uint64_t;

/// Of each puzzle its id, when it is stated, and its position; one where a puzzle tells how the en-passant
/// field is filled. Two puzzles of one mark may still differ: it is a hash.
[[nodiscard]] std::vector<Mark> marks_of(const collection::Document& document);

/// The marks that are there more than once, ascending.
[[nodiscard]] std::vector<Mark> shared_marks(std::vector<Mark> marks);

/// Placement, side, real rights, an en-passant square only when the capture is legal; counters dropped.
[[nodiscard]] std::string normal_form(const board::Position& position);

} // namespace rules
