#pragma once
// What every HTML page of ours begins and ends with.

#include "report/escapers.hpp"

namespace report::page {

/// Up to the body's first own line: the content policy, the style, the symbols that boards use.
[[nodiscard]] Written<Html> begin(Literal title);
/// The script and what closes the page.
[[nodiscard]] Written<Html> end();

} // namespace report::page
