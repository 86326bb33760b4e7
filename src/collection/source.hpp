#pragma once
// A field's text as a reader hands it on, and where each byte of it stands in the document.

#include "collection/span.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace collection {

/// From `text` on (up to the next piece) the bytes of a field stand in one row from `document` on.
struct Piece {
    std::size_t text = 0;
    std::size_t document = 0;
};

/// A field's text that is not the document's own bytes: escapes are resolved, line ends folded.
struct MappedText {
    std::string text;
    Span span;                 ///< of the whole field in the document
    std::vector<Piece> pieces; ///< ascending; empty: places inside are not known, `span` stands for all

    /// Adds `length` bytes that stand at `document`, or come from the escape that begins there.
    void append(std::string_view bytes, std::size_t document);
};

/// A view of a field's text, or of a part of it. Cheap to copy; does not outlive the document or MappedText
/// behind it.
class Source {
  public:
    Source() = default;
    /// Bytes of the document as they stand.
    Source(std::string_view document, Span span);
    explicit Source(const MappedText& mapped);

    [[nodiscard]] std::string_view text() const { return m_text; }
    [[nodiscard]] Span span() const { return span(0, m_text.size()); }
    /// Of the bytes [begin, end) of the text.
    [[nodiscard]] Span span(std::size_t begin, std::size_t end) const;
    [[nodiscard]] Source part(std::size_t begin, std::size_t end) const;
    /// Without the blanks around it.
    [[nodiscard]] Source trimmed() const;

  private:
    [[nodiscard]] std::size_t locate(std::size_t offset) const;

    std::string_view m_text;
    Span m_whole;                         ///< of the whole field
    std::size_t m_offset = 0;             ///< of m_text in the whole field
    const MappedText* m_mapped = nullptr; ///< null: the document's own bytes
};

/// Where in the text `old` is what stands at `span` in the document; nothing when something else does.
[[nodiscard]] std::optional<std::size_t> place_of(const Source& source, Span span, std::string_view old);

/// Cuts at every byte of `separators`; parts are trimmed, empty ones left out.
[[nodiscard]] std::vector<Source> split(const Source& source, std::string_view separators);
/// Cuts at every whole `separator`; parts are trimmed, empty ones left out.
[[nodiscard]] std::vector<Source> split_at(const Source& source, std::string_view separator);

} // namespace collection
