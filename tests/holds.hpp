#pragma once

#include <string_view>

/// Does `part` stand somewhere in `text`?
[[nodiscard]] inline bool holds(std::string_view text, std::string_view part) {
    return text.find(part) != std::string_view::npos;
}
