#pragma once
// Small tools for texts whose encoding is not known: UTF-8, or a byte a character.

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace collection {

/// One character of a text. A byte that is no UTF-8 counts as one Latin-1 character.
struct Character {
    char32_t code = 0;
    std::size_t length = 0; ///< bytes, 1..4; 0 at the end of the text
    bool broken = false;    ///< no UTF-8
};

[[nodiscard]] Character character_at(std::string_view text, std::size_t offset);
[[nodiscard]] bool is_utf8(std::string_view text);
void append_utf8(std::string& text, char32_t code);
/// Bytes that are no UTF-8 are read as Latin-1; those that Latin-1 has no sign for become U+FFFD.
[[nodiscard]] std::string to_utf8(std::string_view text);

/// Blanks, line ends, NUL and the end-of-file byte of DOS (0x1A): they stand between things and mean nothing.
[[nodiscard]] constexpr bool is_blank(char c) {
    return c == ' ' || (c >= '\t' && c <= '\r') || c == '\0' || c == '\x1a';
}
[[nodiscard]] constexpr bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
[[nodiscard]] constexpr bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
[[nodiscard]] constexpr bool is_line_end(char c) {
    return c == '\n' || c == '\r';
}

/// Range of `text` without the blanks around it: [begin, end).
[[nodiscard]] std::pair<std::size_t, std::size_t> trimmed(std::string_view text);
[[nodiscard]] std::string_view trim(std::string_view text);
/// ASCII only.
[[nodiscard]] std::string lower(std::string_view text);
[[nodiscard]] bool equals_ignoring_case(std::string_view a, std::string_view b);
/// End of the line that holds `offset`: its line end or the end of the text.
[[nodiscard]] std::size_t line_end(std::string_view text, std::size_t offset);
/// First byte of the next line; LF, CRLF and lone CR end a line.
[[nodiscard]] std::size_t next_line(std::string_view text, std::size_t offset);
/// First of one to four wanted bytes, or the end of the text.
[[nodiscard]] std::size_t find_any(std::string_view text, std::string_view wanted, std::size_t offset);
/// Every `quote` twice.
[[nodiscard]] std::string doubled(std::string_view text, char quote);
/// A backslash before every `"` and `\`: as text stands between double quotes in PGN and in YAML.
[[nodiscard]] std::string escaped(std::string_view text);
/// `text` in quotes for a message, cut when it is long.
[[nodiscard]] std::string in_quotes(std::string_view text);

} // namespace collection
