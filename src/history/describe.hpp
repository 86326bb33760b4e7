#pragma once
// What became of a puzzle, in the words a reviewer would use.

#include "history/compare.hpp"

#include <string>
#include <vector>

namespace history {

/// One thing that changed: "position" and "white rook e1 to e2".
struct FieldChange {
    std::string field;              ///< as in Pair::fields
    std::vector<std::string> words; ///< never empty; hold text of the collection as it stands there
};

/// By field, in the order of Pair::fields. Empty unless the puzzle is in both states and differs.
[[nodiscard]] std::vector<FieldChange> describe(const Pair& pair);

/// What differs between two diagrams: men first, then side to move, castling and en passant.
[[nodiscard]] std::vector<std::string> describe_position(const board::Setup& before,
                                                         const board::Setup& after);
/// What differs between two solutions: key, main line, variations, marks, comments.
[[nodiscard]] std::vector<std::string> describe_solution(const collection::Puzzle& before,
                                                         const collection::Puzzle& after);

/// The main line, numbered; as written where it cannot be played.
[[nodiscard]] std::string main_line_text(const collection::Puzzle& puzzle);
/// "White to move, mate in 2, key Rh7, themes zugzwang": an added or removed puzzle in a line.
[[nodiscard]] std::string in_short(const collection::Puzzle& puzzle);

} // namespace history
