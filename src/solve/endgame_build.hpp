#pragma once
// A whole table by working backwards from the mates.

#include "solve/endgame_table.hpp"

namespace solve::endgame {

/// Exact distances to mate for every position of the material, best play by both sides, the fifty-move rule
/// left out. `source` is asked for the tables that captures and promotions lead into.
[[nodiscard]] Table build(const Material& material, const Source& source);

} // namespace solve::endgame
