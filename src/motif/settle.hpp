#pragma once
// Material after the storm: a small bounded search of captures, promotions and evasions, counted in pawns.

#include "board/position.hpp"

namespace motif {

/// What a mate is worth here; nearer mates are worth a little more than this, never less than decided_value.
constexpr int mate_value = 1000;
/// At or above: the value stands for a mate, not for material.
constexpr int decided_value = 900;

/// Balance seen from `side`, whoever is to move, after captures, promotions and evasions; the side to move
/// may also try every check at its first move. Stalemate is 0. Bounded in nodes and depth.
[[nodiscard]] int settle(const board::Position& position, board::Color side);

/// The least `side` keeps over all replies of the other side, which is to move; each reply is settled.
[[nodiscard]] int worst_reply(const board::Position& position, board::Color side);

} // namespace motif
