#pragma once

#include <string_view>

namespace app {

/// The project's version in CMakeLists.txt; a test holds the two together.
inline constexpr std::string_view version = "0.1.0";

} // namespace app
