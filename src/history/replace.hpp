#pragma once
// Writing a file of the worktree anew, so that at every moment it holds either all of the old bytes or all of
// the new ones.

#include "collection/error.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace history {

/// Puts `after` in the place of the regular file `path` beneath `root`: a new file beside it, written out to
/// the disk, takes its name. Mode and, where the system lets us, owner are kept; links are neither followed
/// nor replaced. An Error, and the file untouched, when it no longer holds `before`, may not be written, or
/// the disk is full.
[[nodiscard]] std::optional<collection::Error> replace_beneath(const std::string& root, std::string_view path,
                                                               std::string_view before,
                                                               std::string_view after);

} // namespace history
