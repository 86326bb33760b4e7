#pragma once
// Where a run finds its endgame tables.

#include "app/run.hpp"
#include "solve/endgame_tables.hpp"

namespace app {

/// Kept between runs in the user's cache folder (XDG_CACHE_HOME, else ~/.cache); without one in memory only.
[[nodiscard]] solve::EndgameTables endgame_tables(const Environment& environment);

} // namespace app
