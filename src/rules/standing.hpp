#pragma once
// What an author's word about a position is held against: glyphs and sentences alike.

#include "rules/view.hpp"

#include <optional>
#include <vector>

namespace rules {

/// `side` wins, and a second look at the value itself says so too.
[[nodiscard]] std::optional<solve::Judgement> won(const PuzzleView& view, const board::Position& position,
                                                  board::Color side);
/// A draw for certain. That a search sees no win does not outweigh the author's word: attacks and endings go
/// deeper than it does.
[[nodiscard]] std::optional<solve::Judgement> drawn(const PuzzleView& view, const board::Position& position,
                                                    board::Color side);
/// Nodes at or behind what key/refuted, line/fails and line/missing-defence tell of, by index.
[[nodiscard]] std::vector<bool> told_of(const PuzzleView& view);

} // namespace rules
