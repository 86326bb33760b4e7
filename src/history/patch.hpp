#pragma once
// What two texts of one file differ in, as people read it.

#include "collection/error.hpp"

#include <string>
#include <string_view>

namespace history {

/// A unified diff with three lines of context; empty when the texts are equal. Bytes are kept as they are.
[[nodiscard]] collection::Result<std::string> unified_diff(const std::string& path, std::string_view before,
                                                           std::string_view after);

} // namespace history
