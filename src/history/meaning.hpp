#pragma once
// What a puzzle means, free of layout and place: the ground on which two of them are equal, alike or
// different.

#include "collection/puzzle.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace history {

/// Field and canonical text, in the order people should read of changes: "id", "position", ..., then the
/// puzzle's own fields.
using Facts = std::vector<std::pair<std::string, std::string>>;

[[nodiscard]] Facts facts_of(const collection::Puzzle& puzzle);
/// Fields whose texts differ, each once.
[[nodiscard]] std::vector<std::string> differing(const Facts& before, const Facts& after);
/// The diagram without counters; empty when it says nothing about which puzzle this is (unreadable, or the
/// initial array).
[[nodiscard]] std::string telling_position(const collection::Puzzle& puzzle);
/// Main line in coordinates; empty when there is none.
[[nodiscard]] std::string main_moves(const collection::Puzzle& puzzle);
/// The diagram, as far as it can be read.
[[nodiscard]] std::optional<board::Setup> diagram_of(const collection::Puzzle& puzzle);
/// Squares on which the men differ.
[[nodiscard]] int distance(const board::Setup& a, const board::Setup& b);

} // namespace history
