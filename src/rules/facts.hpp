#pragma once
// Themes that state a plain fact: the length of the mate, the side to move, the men on the board.

#include "rules/view.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace rules {

struct Fact {
    enum class Kind : std::uint8_t {
        mate,    ///< "mate in 2", "mate" (moves: 0)
        to_move, ///< "white to move"
        ending,  ///< "rook ending": kings, pawns and men of the role
    };
    Kind kind = Kind::mate;
    int moves = 0;
    board::Color side = board::Color::white;
    board::Role role = board::Role::pawn;
};

/// Case, blanks and hyphens apart: "Mate in two", "mate-in-2", "checkmate in 2 moves", "rook endgame".
[[nodiscard]] std::optional<Fact> fact_of(std::string_view theme);

struct FactVerdict {
    solve::Answer answer = solve::Answer::open;
    std::string why; ///< when it is not so: "the line mates in 3"
};
/// Only when the view can judge play.
[[nodiscard]] FactVerdict judge_fact(const PuzzleView& view, const Fact& fact);

} // namespace rules
