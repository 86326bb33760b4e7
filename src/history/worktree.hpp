#pragma once
// Reading files of the worktree without being led out of it.

#include "collection/error.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace history {

/// Bytes of the regular file `path` beneath `root`; nothing when there is none. A link on the way is an
/// Error, so are a device and a file longer than `collection::max_file_bytes`.
[[nodiscard]] collection::Result<std::optional<std::string>> read_beneath(const std::string& root,
                                                                          std::string_view path);

} // namespace history
