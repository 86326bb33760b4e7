#include "report/utf8.hpp"

#include "collection/text.hpp"

#include <algorithm>
#include <array>
#include <span>

namespace report {
namespace {

struct Range {
    char32_t first, last;
};

// The common blocks of Unicode's East Asian Width "wide" and of combining marks; a caret one cell off
// elsewhere does no harm.
constexpr std::array wide{
    Range{0x1100, 0x115F},   Range{0x2E80, 0xA4CF},   Range{0xAC00, 0xD7A3}, Range{0xF900, 0xFAFF},
    Range{0xFE30, 0xFE6F},   Range{0xFF00, 0xFF60},   Range{0xFFE0, 0xFFE6}, Range{0x1F300, 0x1F64F},
    Range{0x1F900, 0x1F9FF}, Range{0x20000, 0x3FFFD},
};
constexpr std::array narrowest{
    Range{0x0300, 0x036F}, Range{0x200B, 0x200D}, Range{0x20D0, 0x20FF},
    Range{0xFE00, 0xFE0F}, Range{0xFE20, 0xFE2F},
};

bool within(std::span<const Range> ranges, char32_t c) {
    return std::any_of(ranges.begin(), ranges.end(), [c](Range r) { return c >= r.first && c <= r.last; });
}

} // namespace

CodePoint first_code_point(std::string_view text) {
    const collection::Character c = collection::character_at(text, 0);
    return c.broken ? CodePoint() : CodePoint{c.code, c.length};
}

std::size_t bytes_of(std::string_view text, std::size_t count) {
    std::size_t at = 0;
    for (; count > 0 && at < text.size(); --count) {
        at += first_code_point(text.substr(at)).size;
    }
    return at;
}

std::size_t width(std::string_view text) {
    std::size_t cells = 0;
    while (!text.empty()) {
        const CodePoint c = first_code_point(text);
        cells += within(wide, c.value) ? 2 : within(narrowest, c.value) ? 0 : 1;
        text.remove_prefix(c.size);
    }
    return cells;
}

} // namespace report
