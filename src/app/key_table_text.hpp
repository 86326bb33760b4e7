#pragma once
// The verdicts on the first moves, as a table for people.

#include "solve/solver.hpp"

#include <cstddef>
#include <string>

namespace app {

/// A row a move: verdict, certainty, value, line; at most so many rows (0: all), the rest counted. `has_key`:
/// a key was named, to which the others are compared.
[[nodiscard]] std::string key_table_text(const board::Position& position, const solve::KeyTable& table,
                                         bool has_key, std::size_t most = 0);

} // namespace app
