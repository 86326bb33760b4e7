#include "collection/text.hpp"

#include <algorithm>
#include <array>

namespace collection {

namespace {

constexpr char32_t replacement = 0xfffd;

char32_t byte_at(std::string_view text, std::size_t offset) {
    return static_cast<unsigned char>(text[offset]);
}

/// Length of a UTF-8 sequence by its first byte, 0 when none begins so (Unicode, table 3-7).
std::size_t sequence_length(char32_t first) {
    if (first < 0x80) {
        return 1;
    }
    if (first >= 0xc2 && first <= 0xdf) {
        return 2;
    }
    if (first >= 0xe0 && first <= 0xef) {
        return 3;
    }
    return first >= 0xf0 && first <= 0xf4 ? 4 : 0;
}

bool is_ascii(std::string_view text) {
    return std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

char ascii_lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

} // namespace

Character character_at(std::string_view text, std::size_t offset) {
    if (offset >= text.size()) {
        return {};
    }
    const char32_t first = byte_at(text, offset);
    const std::size_t length = sequence_length(first);
    if (length == 1) {
        return {first, 1, false};
    }
    constexpr std::array<char32_t, 5> masks{0, 0, 0x1f, 0x0f, 0x07};
    constexpr std::array<char32_t, 5> least{0, 0, 0x80, 0x800, 0x10000};
    if (length == 0 || offset + length > text.size()) {
        return {first, 1, true};
    }
    char32_t code = first & masks[length];
    for (std::size_t i = 1; i < length; ++i) {
        const char32_t next = byte_at(text, offset + i);
        if ((next & 0xc0) != 0x80) {
            return {first, 1, true};
        }
        code = (code << 6) | (next & 0x3f);
    }
    const bool surrogate = code >= 0xd800 && code <= 0xdfff;
    if (code < least[length] || code > 0x10ffff || surrogate) {
        return {first, 1, true};
    }
    return {code, length, false};
}

bool is_utf8(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const Character c = character_at(text, at);
        if (c.broken) {
            return false;
        }
        at += c.length;
    }
    return true;
}

void append_utf8(std::string& text, char32_t code) {
    const auto push = [&text](char32_t byte) { text.push_back(static_cast<char>(byte)); };
    if (code < 0x80) {
        push(code);
    } else if (code < 0x800) {
        push(0xc0 | (code >> 6));
        push(0x80 | (code & 0x3f));
    } else if (code < 0x10000) {
        push(0xe0 | (code >> 12));
        push(0x80 | ((code >> 6) & 0x3f));
        push(0x80 | (code & 0x3f));
    } else {
        push(0xf0 | (code >> 18));
        push(0x80 | ((code >> 12) & 0x3f));
        push(0x80 | ((code >> 6) & 0x3f));
        push(0x80 | (code & 0x3f));
    }
}

std::string to_utf8(std::string_view text) {
    if (is_ascii(text) || is_utf8(text)) {
        return std::string(text);
    }
    std::string result;
    for (std::size_t at = 0; at < text.size();) {
        const Character c = character_at(text, at);
        append_utf8(result, c.broken && c.code < 0xa0 ? replacement : c.code);
        at += c.length;
    }
    return result;
}

std::pair<std::size_t, std::size_t> trimmed(std::string_view text) {
    std::size_t begin = 0;
    std::size_t end = text.size();
    while (begin < end && is_blank(text[begin])) {
        ++begin;
    }
    while (end > begin && is_blank(text[end - 1])) {
        --end;
    }
    return {begin, end};
}

std::string_view trim(std::string_view text) {
    const auto [begin, end] = trimmed(text);
    return text.substr(begin, end - begin);
}

std::string lower(std::string_view text) {
    std::string result(text);
    std::transform(result.begin(), result.end(), result.begin(), ascii_lower);
    return result;
}

bool equals_ignoring_case(std::string_view a, std::string_view b) {
    return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), [](char x, char y) {
               return ascii_lower(x) == ascii_lower(y);
           });
}

std::size_t find_any(std::string_view text, std::string_view wanted, std::size_t offset) {
    const auto nth = [wanted](std::size_t n) { return wanted[std::min(n, wanted.size() - 1)]; };
    const std::array<char, 4> escaped{nth(0), nth(1), nth(2),
                                      nth(3)}; // compared at once, which find_first_of does not
    while (offset < text.size()) {
        const char c = text[offset];
        if (c == escaped[0] || c == escaped[1] || c == escaped[2] || c == escaped[3]) {
            return offset;
        }
        ++offset;
    }
    return text.size();
}

std::size_t line_end(std::string_view text, std::size_t offset) {
    while (offset < text.size() && !is_line_end(text[offset])) {
        ++offset;
    }
    return offset;
}

std::size_t next_line(std::string_view text, std::size_t offset) {
    const std::size_t end = line_end(text, offset);
    if (end == text.size()) {
        return end;
    }
    return text.substr(end, 2) == "\r\n" ? end + 2 : end + 1;
}

std::string doubled(std::string_view text, char quote) {
    std::string result;
    for (const char c : text) {
        result.append(c == quote ? 2 : 1, c);
    }
    return result;
}

std::string escaped(std::string_view text) {
    std::string result;
    for (const char c : text) {
        if (c == '"' || c == '\\') {
            result += '\\';
        }
        result += c;
    }
    return result;
}

std::string in_quotes(std::string_view text) {
    constexpr std::size_t longest = 60;
    std::size_t length = 0;
    while (length < text.size() && length < longest) {
        length += character_at(text, length).length;
    }
    return "\"" + to_utf8(text.substr(0, length)) + (length < text.size() ? "…\"" : "\"");
}

} // namespace collection
