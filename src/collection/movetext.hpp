#pragma once
// The one reader of solutions: movetext (PGN standard 1994, section 8.2) to a move tree, tolerant of what
// people write.

#include "collection/puzzle.hpp"
#include "collection/source.hpp"

#include <optional>
#include <string_view>
#include <vector>

namespace collection {

enum class Notation : std::uint8_t {
    san, ///< coordinates are read where they are no SAN
    san_only,
    coordinate,
};
enum class FirstMove : std::uint8_t {
    solver,
    opponent
}; ///< opponent: it leads into the diagram and is no node of the tree

struct Movetext {
    MoveTree tree;
    std::optional<board::Position> diagram;     ///< the root's position: `start`, or after the lead-in
    std::optional<Stated<std::string>> lead_in; ///< as written
    bool lead_in_played = false;
    std::optional<SideStatement> first_number; ///< what the number before the first move says
    std::size_t end = 0;                       ///< byte of the text behind the result, or its size
    std::vector<Fault> faults;
};

/// Reads to the result marker or to the end. Without `start` no move can be played and all are `unchecked`.
[[nodiscard]] Movetext read_movetext(const Source& source, const std::optional<board::Position>& start,
                                     Notation notation = Notation::san, FirstMove first = FirstMove::solver);

struct PlayedMove {
    board::Move move;
    MoveStatus status = MoveStatus::unreadable;
};

/// One move's text, without suffix and number. `position` null: legible or not is all that is said.
[[nodiscard]] PlayedMove read_move(const board::Position* position, std::string_view text, Notation notation);

/// Appends unless the unit has so many faults already that more would help nobody.
void add_fault(std::vector<Fault>& faults, Fault fault);

} // namespace collection
