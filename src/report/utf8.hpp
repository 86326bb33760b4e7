#pragma once
// Text as code points, and how wide it stands on a terminal. Private to the writers.

#include <cstddef>
#include <string_view>

namespace report {

struct CodePoint {
    char32_t value = 0xFFFD; ///< U+FFFD for a byte that is no UTF-8
    std::size_t size = 1;    ///< bytes read
};

/// The first code point of a text that is not empty. Overlong forms, surrogates and cut sequences are no
/// UTF-8.
[[nodiscard]] CodePoint first_code_point(std::string_view text);
/// Characters that move the cursor, turn the direction of text or hide it.
[[nodiscard]] bool acts_on_a_terminal(char32_t code_point);
/// Bytes of the first `count` code points.
[[nodiscard]] std::size_t bytes_of(std::string_view text, std::size_t count);
/// Cells on a terminal: wide characters take two, combining ones none.
[[nodiscard]] std::size_t width(std::string_view text);

} // namespace report
