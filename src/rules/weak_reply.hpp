#pragma once
// Where the main line lets the defender play clearly worse than he could. Shared by the rules that must not
// tell one reply twice.

#include "rules/view.hpp"

#include <cstdint>
#include <optional>

namespace rules {

/// A printed reply of the main line, and a better one that stands nowhere.
struct WeakReply {
    enum class Kind : std::uint8_t {
        shorter,  ///< it is mated sooner (mates of a stated length; proved)
        by_class, ///< it loses more by a class: a game instead of some men, some men instead of nothing
        by_value, ///< it loses more by `near`
    };
    std::size_t node = 0;    ///< the solver's move before it
    std::size_t printed = 0; ///< the reply itself
    Kind kind = Kind::by_value;
    solve::Value worse; ///< after the printed reply
    solve::Value best;  ///< after the better one
    solve::Line better; ///< the better reply and the play after it
    solve::Certainty certainty = solve::Certainty::open;
};

/// For the view, which keeps the answer. The first one. Nothing behind a move that does not work, and nothing
/// where a better reply is printed too.
[[nodiscard]] std::optional<WeakReply> find_weak_reply(const PuzzleView& view);

} // namespace rules
