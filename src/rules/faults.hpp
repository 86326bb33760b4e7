#pragma once
// Where a printed line loses its goal. Shared by the rules that tell it in different words.

#include "rules/view.hpp"

#include <cstdint>
#include <vector>

namespace rules {

/// A printed move after which the goal is no longer reached. Searched ones have been looked at twice.
struct LineFault {
    enum class Kind : std::uint8_t {
        fails,
        slower,      ///< mates, but later than stated
        falls_short, ///< something is won, though less than the goal asks for
    };
    std::size_t node = 0;
    Kind kind = Kind::fails;
    solve::Judgement
        judgement; ///< of the position after the move; its line begins with the answer that shows it
};

/// For the view, which keeps the answer. The first fault of every line, by node. Nothing inside tries,
/// nothing behind a key that does not work.
[[nodiscard]] std::vector<LineFault> find_line_faults(const PuzzleView& view);
/// The answer that shows the fault is not printed, but words for it stand there: "any", "it does not matter".
[[nodiscard]] bool is_covered(const PuzzleView& view, const LineFault& fault);
/// Words at this node stand for the replies that are not printed.
[[nodiscard]] bool covers_replies(const PuzzleView& view, std::size_t node);
/// What "any" or "N~" at `node` (a word for replies) stands for: legal replies that are not printed.
[[nodiscard]] std::vector<board::Move> covered_replies(const PuzzleView& view, std::size_t node);
/// A main-line move that the line goes on after, and the answer that shows the fault is not printed there.
[[nodiscard]] bool is_unforeseen(const PuzzleView& view, const LineFault& fault);

} // namespace rules
