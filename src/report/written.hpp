#pragma once
// Text of a format that can hold nothing unescaped. A page takes what stood in our source, numbers, and
// Untrusted through the format's own escaper; a run-time string does not compile.

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>

namespace report {

/// Text nobody vouches for: of a collection, a path, a library's error. Must not outlive what it looks at.
class Untrusted {
  public:
    explicit Untrusted(std::string_view bytes) : m_bytes(bytes) {}
    [[nodiscard]] std::string_view bytes() const { return m_bytes; }

  private:
    std::string_view m_bytes;
};

/// Text that stood in our source when it was compiled.
class Literal {
  public:
#if defined(__clang__) && __clang_major__ < 15 // destroys temporaries beside an immediate function too late
    constexpr Literal(const char* text) : m_text(text) {}
#else
    consteval Literal(const char* text) : m_text(text) {}
#endif
    [[nodiscard]] std::string_view text() const {
        return m_text;
    }

  private:
    std::string_view m_text;
};

/// `Format` says how a `T` is escaped: `static void escape(T, std::string& into)`.
template <class Format, class T>
concept Escapes = requires(const T& value, std::string& into) {
    Format::escape(value, into);
};

template <class Format> class Written {
  public:
    Written& operator<<(Literal literal) {
        m_text += literal.text();
        return *this;
    }
    Written& operator<<(std::size_t number) {
        m_text += std::to_string(number);
        return *this;
    }
    Written& operator<<(const Written& part) {
        m_text += part.m_text;
        return *this;
    }
    template <class T>
    requires Escapes<Format, T> Written& operator<<(const T& value) {
        Format::escape(value, m_text);
        return *this;
    }
    Written& times(std::size_t count, Literal literal) {
        for (; count > 0; --count) {
            m_text += literal.text();
        }
        return *this;
    }

    [[nodiscard]] const std::string& text() const& { return m_text; }
    [[nodiscard]] std::string text() && { return std::move(m_text); }
    [[nodiscard]] std::size_t size() const { return m_text.size(); }
    [[nodiscard]] bool empty() const { return m_text.empty(); }

  private:
    std::string m_text;
};

} // namespace report
