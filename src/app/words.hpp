#pragma once
// Text laid out for a terminal of 80 columns or more.

#include <string>
#include <string_view>
#include <vector>

namespace app {

inline constexpr std::size_t line_width = 80;

/// Running text broken at blanks, every line behind `margin`.
[[nodiscard]] std::string wrapped(std::string_view text, std::string_view margin);
/// Lines wider than `columns` (0: none is) are broken at blanks; what follows stands under their last column,
/// where they have columns two blanks apart in their first half, or else a little further in.
[[nodiscard]] std::string folded(std::string_view text, std::size_t columns = line_width);
/// Lines as they are, made harmless, every one behind `margin`.
[[nodiscard]] std::string indented(std::string_view text, std::string_view margin);
/// Rows of cells made harmless, two blanks between columns, the last one as long as it is. An empty row is an
/// empty line.
[[nodiscard]] std::string in_columns(const std::vector<std::vector<std::string>>& rows);

} // namespace app
