#pragma once
// Bytes by their hash, the one git stores them under.

#include <string>
#include <string_view>

namespace history {

/// Twenty bytes: SHA-1 of the blob, computed so that bytes made to collide are detected by the library.
[[nodiscard]] std::string content_id(std::string_view bytes);

} // namespace history
