#pragma once
// Which members of a sequence keep their order.

#include <cstddef>
#include <span>
#include <vector>

namespace history {

/// Marks a longest strictly rising run of `values`, not necessarily of neighbours; among several the one that
/// ends lowest.
[[nodiscard]] std::vector<bool> longest_rising(std::span<const std::size_t> values);

} // namespace history
