#pragma once
// Which build this is.

#include <string>

namespace app {

/// The linker's build id of this program, in bytes; empty when the linker wrote none. Equal builds share it.
[[nodiscard]] const std::string& build_id();

} // namespace app
