#pragma once
// What a puzzle is called across states and files.

#include "collection/document.hpp"

#include <string>

namespace rules {

/// Its stated id; without one the file's path and the FEN. What fingerprints of its findings are made over.
[[nodiscard]] std::string identity_of(const collection::Document& document, const collection::Puzzle& puzzle);

} // namespace rules
