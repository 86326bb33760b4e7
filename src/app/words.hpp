#pragma once
// Text laid out for a terminal of 88 columns or more.

#include <string>
#include <string_view>
#include <vector>

namespace app {

inline constexpr std::size_t line_width = 88;

/// Running text broken at blanks, every line behind `margin`.
[[nodiscard]] std::string wrapped(std::string_view text, std::string_view margin);
/// Lines as they are, made harmless, every one behind `margin`.
[[nodiscard]] std::string indented(std::string_view text, std::string_view margin);
/// Rows of cells made harmless, two blanks between columns, the last one as long as it is. An empty row is an
/// empty line.
[[nodiscard]] std::string in_columns(const std::vector<std::vector<std::string>>& rows);

} // namespace app
