#pragma once
// Where each character of a YAML scalar stands, given its value: escapes resolved, indentation and folds
// taken out.

#include "collection/source.hpp"
#include "collection/text.hpp"

#include <cstdint>

namespace collection {

enum class ScalarStyle : std::uint8_t { plain, single_quoted, double_quoted, block };

/// What a character is read as: Latin-1 for broken bytes, a blank for control characters, U+FFFD for what
/// YAML forbids.
[[nodiscard]] char32_t yaml_code(const Character& character);
/// `span` with its quotes or block header. Without pieces when value and text do not fit together.
[[nodiscard]] MappedText align_scalar(std::string_view document, Span span, std::string_view value,
                                      ScalarStyle style);

} // namespace collection
