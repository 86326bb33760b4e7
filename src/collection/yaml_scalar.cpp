#include "collection/yaml_scalar.hpp"

#include <algorithm>

namespace collection {

namespace {

bool is_white(char32_t code) {
    return code == ' ' || code == '\t' || code == '\n' || code == '\r';
}

/// Walks along the text as written while the value's characters come in.
class Aligner {
  public:
    Aligner(std::string_view document, Span inner, ScalarStyle style)
        : m_document(document.substr(0, inner.end)), m_at(inner.begin), m_style(style) {}

    bool align(std::string_view value, MappedText& result) {
        for (std::size_t at = 0; at < value.size();) {
            const Character c = character_at(value, at);
            const std::size_t length = is_white(c.code) ? white() : other(c.code);
            if (length == 0 && !is_white(c.code)) {
                return false;
            }
            result.append(value.substr(at, c.length), m_at);
            m_at += length;
            at += c.length;
        }
        return true;
    }

  private:
    [[nodiscard]] char32_t code() const { return yaml_code(character_at(m_document, m_at)); }
    [[nodiscard]] bool at_escape() const { return m_style == ScalarStyle::double_quoted && code() == '\\'; }

    /// Bytes that a blank of the value stands for here: one, an escape, or none.
    std::size_t white() const {
        if (at_escape()) {
            return escape_length();
        }
        return m_at < m_document.size() && is_white(code()) ? character_at(m_document, m_at).length : 0;
    }

    /// Bytes that a character stands for behind indentation and folds; 0 when another one stands there.
    std::size_t other(char32_t wanted) {
        skip_folds();
        if (m_at == m_document.size()) {
            return 0;
        }
        if (at_escape()) {
            return escape_length();
        }
        const bool twice = m_style == ScalarStyle::single_quoted && wanted == '\'';
        return code() != wanted ? 0 : twice ? 2 : character_at(m_document, m_at).length;
    }

    void skip_folds() {
        while (m_at < m_document.size()) {
            const bool folded_escape =
                at_escape() && m_at + 1 < m_document.size() && is_line_end(m_document[m_at + 1]);
            if (!is_white(code()) && !folded_escape) {
                return;
            }
            ++m_at;
        }
    }

    /// YAML 1.1, section 5.6.
    std::size_t escape_length() const {
        const char kind = m_at + 1 < m_document.size() ? m_document[m_at + 1] : '\0';
        const std::size_t length = kind == 'x' ? 4 : kind == 'u' ? 6 : kind == 'U' ? 10 : 2;
        return std::min(length, m_document.size() - m_at);
    }

    std::string_view m_document;
    std::size_t m_at;
    ScalarStyle m_style;
};

Span inner_span(std::string_view document, Span span, ScalarStyle style) {
    if (style == ScalarStyle::plain || span.end - span.begin < 2) {
        return span;
    }
    if (style == ScalarStyle::block) {
        return {std::min(next_line(document, span.begin), span.end), span.end};
    }
    return {span.begin + 1, span.end - 1};
}

} // namespace

char32_t yaml_code(const Character& character) {
    const char32_t code = character.code;
    if (character.broken) {
        return code < 0xa0 ? 0xfffd : code;
    }
    if (code < 0x20 && !is_white(code)) {
        return ' ';
    }
    const bool forbidden = code == 0x7f || (code >= 0x80 && code < 0xa0 && code != 0x85) || code == 0xfeff ||
                           code == 0xfffe || code == 0xffff;
    return forbidden ? 0xfffd : code;
}

MappedText align_scalar(std::string_view document, Span span, std::string_view value, ScalarStyle style) {
    MappedText result;
    result.span = span;
    const Span inner = inner_span(document, span, style);
    if (document.substr(inner.begin, inner.end - inner.begin) == value) {
        result.append(value, inner.begin);
        return result;
    }
    if (!Aligner(document, inner, style).align(value, result)) {
        result.text = value;
        result.pieces.clear();
    }
    return result;
}

} // namespace collection
