#pragma once
// What stands beside a key of which nothing was claimed and that wins nothing clear. Shared by the rules that
// must not tell one move twice.

#include "rules/view.hpp"

#include <optional>
#include <vector>

namespace rules {

/// First moves that are not seen to be clearly worse than the key.
struct Company {
    /// Within `near` of the key, as far as was searched. Accepted moves are not told, here or below.
    std::vector<board::Move> level;
    std::vector<board::Move> loose; ///< not settled
    std::vector<board::Move> above; ///< seem to come to more than the key by `near`
    /// A move whose own search puts it above the key by `near`.
    std::optional<solve::MoveVerdict> better;
    /// A move that is within `near` of the key by its own search, or by a question of its own (then a bound).
    /// Neither is there where nothing settled, or where the key may yet win.
    std::optional<solve::MoveVerdict> shown;
};

/// For the view, which keeps the answer. Only with a key in the table.
[[nodiscard]] Company find_company(const PuzzleView& view);

} // namespace rules
