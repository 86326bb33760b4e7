#pragma once
// What a puzzle is called across states and files.

#include "collection/document.hpp"

#include <cstdint>
#include <string>
#include <string_view>

namespace rules {

/// Its stated id; without one the file's path and the FEN. What fingerprints of its findings are made over.
[[nodiscard]] std::string identity_of(const collection::Document& document, const collection::Puzzle& puzzle);

/// FNV-1a, 64 bits, of `text` behind what `before` is the hash of: the same on every machine and in every
/// release.
constexpr std::uint64_t hash_of_nothing = 0xcbf29ce484222325;
[[nodiscard]] std::uint64_t stable_hash(std::string_view text, std::uint64_t before = hash_of_nothing);

} // namespace rules
