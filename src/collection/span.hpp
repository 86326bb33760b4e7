#pragma once
// Places in a document: byte ranges inside, lines and columns only when something is written for people.

#include <cstddef>
#include <string_view>
#include <vector>

namespace collection {

/// Half-open byte range of a document.
struct Span {
    std::size_t begin = 0;
    std::size_t end = 0;
    friend bool operator==(Span, Span) = default;
    friend auto operator<=>(Span, Span) = default;
};

/// A value and where it is stated.
template <class T> struct Stated {
    T value{};
    Span span{};
};

/// 1-based line; 1-based column in code points (a broken UTF-8 byte counts as one).
struct Place {
    std::size_t line = 1;
    std::size_t column = 1;
    friend bool operator==(Place, Place) = default;
    friend auto operator<=>(Place, Place) = default;
};

/// Line starts of a text; LF, CRLF and lone CR end a line; a byte order mark takes no column.
class LineIndex {
  public:
    LineIndex() = default;
    explicit LineIndex(std::string_view text);
    /// `text` must be the text the index was made from; an offset past the end gives the end.
    [[nodiscard]] Place place(std::string_view text, std::size_t offset) const;
    [[nodiscard]] std::size_t line_count() const { return m_lines; }
    /// The line (1-based) without its line end.
    [[nodiscard]] std::string_view line(std::string_view text, std::size_t number) const;

  private:
    [[nodiscard]] std::size_t start(std::string_view text, std::size_t number) const;

    static constexpr std::size_t stride = 32; ///< a file of empty lines must not cost eight times its size
    std::vector<std::size_t> m_starts;        ///< of every 32nd line
    std::size_t m_lines = 0;
};

} // namespace collection
