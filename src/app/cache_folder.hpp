#pragma once
// Where a run keeps what the next one need not work out again.

#include "app/run.hpp"

#include <filesystem>
#include <optional>
#include <string>

namespace app {

/// `asked` for, relative to the working directory, else the user's (XDG_CACHE_HOME, else ~/.cache); nothing
/// when neither is known.
[[nodiscard]] std::optional<std::filesystem::path>
cache_folder(const Environment& environment, const std::optional<std::string>& asked = std::nullopt);

} // namespace app
