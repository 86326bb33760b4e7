#pragma once
// Texts and numbers one behind the other, quick to read back: for what the build or an earlier run has worked
// out.

#include <charconv>
#include <cstddef>
#include <stdexcept>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

namespace rules {

/// Every text behind its length: "4:fork". A number is "4:".
class Packer {
  public:
    void text(std::string_view value) {
        number(value.size());
        m_packed += value;
    }
    void number(std::size_t value) { m_packed += std::to_string(value) + ':'; }
    template <class T> std::size_t size(const std::vector<T>& list) {
        number(list.size());
        return list.size();
    }
    [[nodiscard]] const std::string& packed() const { return m_packed; }

  private:
    std::string m_packed;
};

/// Throws std::out_of_range on what no Packer has written.
class Unpacker {
  public:
    explicit Unpacker(std::string_view packed) : m_rest(packed) {}
    /// Texts point into what is unpacked, or are copied.
    template <class Text> void text(Text& value) {
        std::size_t length = 0;
        number(length);
        if (length > m_rest.size()) {
            throw std::out_of_range("a text that breaks off");
        }
        value = m_rest.substr(0, length);
        m_rest.remove_prefix(length);
    }
    void number(std::size_t& value) {
        const char* const end = m_rest.data() + m_rest.size();
        const auto [read_to, fault] = std::from_chars(m_rest.data(), end, value);
        if (fault != std::errc() || read_to == end || *read_to != ':') {
            throw std::out_of_range("no number");
        }
        m_rest.remove_prefix(static_cast<std::size_t>(read_to - m_rest.data()) + 1);
    }
    template <class T> std::size_t size(std::vector<T>& list) {
        std::size_t length = 0;
        number(length);
        if (length > m_rest.size()) {
            throw std::out_of_range("more than there is");
        }
        list.resize(length);
        return length;
    }

  private:
    std::string_view m_rest;
};

} // namespace rules
