#pragma once
// Whose turn is it? What the statements say and what the solution supports; shared by the rules of turn/ and
// the view.

#include "rules/view.hpp"

#include <optional>
#include <string>

namespace rules {

/// Not all statements of the side to move agree.
[[nodiscard]] bool statements_disagree(const collection::Puzzle& puzzle);
/// They do but for captions.
[[nodiscard]] bool only_captions_differ(const collection::Puzzle& puzzle);
/// "the FEN says white, the move number says black"
[[nodiscard]] std::string statements_of(const collection::Puzzle& puzzle);

/// Plies of the main line that can be played when `side` moves first; `all` when that is the whole line.
struct Playable {
    std::size_t plies = 0;
    bool all = false;
};
[[nodiscard]] Playable playable(const collection::Puzzle& puzzle, board::Color side);

/// The side for which the solution can be played, or, when it can be for both, for which its key wins.
/// Nothing when it does not tell.
[[nodiscard]] std::optional<board::Color> side_supported(const PuzzleView& view);

} // namespace rules
