#include "collection/span.hpp"

#include "collection/text.hpp"

#include <algorithm>

namespace collection {

LineIndex::LineIndex(std::string_view text) {
    std::size_t at = text.substr(0, 3) == "\xef\xbb\xbf" ? 3 : 0;
    while (true) {
        if (m_lines % stride == 0) {
            m_starts.push_back(at);
        }
        ++m_lines;
        const std::size_t end = line_end(text, at);
        if (end == text.size()) {
            return;
        }
        at = next_line(text, end);
    }
}

std::size_t LineIndex::start(std::string_view text, std::size_t number) const {
    std::size_t at = m_starts[(number - 1) / stride];
    for (std::size_t i = (number - 1) % stride; i > 0; --i) {
        at = next_line(text, at);
    }
    return at;
}

Place LineIndex::place(std::string_view text, std::size_t offset) const {
    if (m_starts.empty()) {
        return {};
    }
    offset = std::clamp(offset, m_starts.front(), std::max(m_starts.front(), text.size()));
    const auto mark = std::prev(std::upper_bound(m_starts.begin(), m_starts.end(), offset));
    Place place{static_cast<std::size_t>(mark - m_starts.begin()) * stride + 1, 1};
    std::size_t begin = *mark;
    for (std::size_t next = next_line(text, begin); place.line < m_lines && next <= offset;
         next = next_line(text, begin)) {
        begin = next;
        ++place.line;
    }
    const std::size_t last = std::min(offset, line_end(text, begin));
    for (std::size_t at = begin; at < last; ++place.column) {
        at += character_at(text, at).length;
        if (at > last) {
            break; // inside a character: its own column
        }
    }
    return place;
}

std::string_view LineIndex::line(std::string_view text, std::size_t number) const {
    if (number == 0 || number > m_lines) {
        return {};
    }
    const std::size_t begin = start(text, number);
    return text.substr(begin, line_end(text, begin) - begin);
}

} // namespace collection
