#include "collection/source.hpp"

#include "collection/text.hpp"

#include <algorithm>

namespace collection {

void MappedText::append(std::string_view bytes, std::size_t document) {
    const bool continues =
        !pieces.empty() && pieces.back().document + (text.size() - pieces.back().text) == document;
    if (!continues) {
        pieces.push_back({text.size(), document});
    }
    text += bytes;
}

Source::Source(std::string_view document, Span span)
    : m_text(document.substr(span.begin, span.end - span.begin)), m_whole(span) {}

Source::Source(const MappedText& mapped) : m_text(mapped.text), m_whole(mapped.span), m_mapped(&mapped) {}

std::size_t Source::locate(std::size_t offset) const {
    const auto after = std::upper_bound(m_mapped->pieces.begin(), m_mapped->pieces.end(), offset,
                                        [](std::size_t at, const Piece& piece) { return at < piece.text; });
    if (after == m_mapped->pieces.begin()) {
        return m_whole.begin;
    }
    const Piece& piece = *std::prev(after);
    return piece.document + (offset - piece.text);
}

Span Source::span(std::size_t begin, std::size_t end) const {
    if (m_mapped == nullptr) {
        return {m_whole.begin + m_offset + begin, m_whole.begin + m_offset + end};
    }
    if (m_mapped->pieces.empty()) {
        return m_whole;
    }
    const std::size_t first = locate(m_offset + begin);
    return {first, end > begin ? std::max(first, locate(m_offset + end - 1) + 1) : first};
}

Source Source::part(std::size_t begin, std::size_t end) const {
    Source result = *this;
    result.m_text = m_text.substr(begin, end - begin);
    result.m_offset = m_offset + begin;
    return result;
}

Source Source::trimmed() const {
    const auto [begin, end] = collection::trimmed(m_text);
    return part(begin, end);
}

std::optional<std::size_t> place_of(const Source& source, Span span, std::string_view old) {
    const std::string_view text = source.text();
    const bool places_known =
        source.span(0, 0).begin == source.span(0, 0).end; // else the whole stands for all
    if (!places_known) {
        return std::nullopt;
    }
    for (std::size_t at = text.find(old); at != std::string_view::npos; at = text.find(old, at + 1)) {
        if (source.span(at, at + old.size()) == span) {
            return at;
        }
    }
    return std::nullopt;
}

namespace {

void add_part(std::vector<Source>& parts, const Source& part) {
    const Source inner = part.trimmed();
    if (!inner.text().empty()) {
        parts.push_back(inner);
    }
}

} // namespace

std::vector<Source> split(const Source& source, std::string_view separators) {
    std::vector<Source> parts;
    for (std::size_t begin = 0; begin <= source.text().size();) {
        const std::size_t end = find_any(source.text(), separators, begin);
        add_part(parts, source.part(begin, end));
        begin = end + 1;
    }
    return parts;
}

std::vector<Source> split_at(const Source& source, std::string_view separator) {
    std::vector<Source> parts;
    for (std::size_t begin = 0; begin <= source.text().size();) {
        const std::size_t found =
            separator.empty() ? std::string_view::npos : source.text().find(separator, begin);
        const std::size_t end = std::min(found, source.text().size());
        add_part(parts, source.part(begin, end));
        begin = end + std::max<std::size_t>(separator.size(), 1);
    }
    return parts;
}

} // namespace collection
