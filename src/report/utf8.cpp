#include "report/utf8.hpp"

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
    const auto byte = [text](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char lead = byte(0);
    if (lead < 0x80) {
        return {lead, 1};
    }
    const std::size_t size = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    if (lead < 0xC2 || lead > 0xF4 || text.size() < size) {
        return {};
    }
    char32_t value = lead & (0xFFU >> (size + 1));
    for (std::size_t i = 1; i < size; ++i) {
        if ((byte(i) & 0xC0U) != 0x80) {
            return {};
        }
        value = (value << 6U) | (byte(i) & 0x3FU);
    }
    const bool overlong = (size == 3 && value < 0x800) || (size == 4 && value < 0x10000);
    if (overlong || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF)) {
        return {};
    }
    return {value, size};
}

void append(std::string& text, char32_t c) {
    const auto put = [&text](char32_t byte) { text.push_back(static_cast<char>(byte)); };
    if (c < 0x80) {
        put(c);
        return;
    }
    if (c < 0x800) {
        put(0xC0U | (c >> 6U));
    } else if (c < 0x10000) {
        put(0xE0U | (c >> 12U));
        put(0x80U | ((c >> 6U) & 0x3FU));
    } else {
        put(0xF0U | (c >> 18U));
        put(0x80U | ((c >> 12U) & 0x3FU));
        put(0x80U | ((c >> 6U) & 0x3FU));
    }
    put(0x80U | (c & 0x3FU));
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
