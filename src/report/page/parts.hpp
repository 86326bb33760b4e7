#pragma once
// The parts of the HTML page that are files of their own, compiled in, with the hashes the page's content
// policy names.

#include "report/written.hpp"

namespace report::page {

[[nodiscard]] Literal css();
[[nodiscard]] Literal css_hash(); ///< base64 of the SHA-256
[[nodiscard]] Literal js();
[[nodiscard]] Literal js_hash();

} // namespace report::page
