#pragma once
// A file descriptor as an owned value, and the error for a file that cannot be read.

#include "collection/error.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <unistd.h>
#include <utility>

namespace history {

class Descriptor {
  public:
    explicit Descriptor(int number) : m_number(number) {}
    ~Descriptor() { close(); }
    Descriptor(Descriptor&& other) noexcept : m_number(other.release()) {}
    Descriptor& operator=(Descriptor&& other) noexcept {
        close();
        m_number = other.release();
        return *this;
    }
    [[nodiscard]] int get() const { return m_number; }
    [[nodiscard]] bool ok() const { return m_number >= 0; }
    int release() { return std::exchange(m_number, -1); }

  private:
    void close() {
        if (m_number >= 0) {
            ::close(m_number);
        }
    }
    int m_number;
};

/// Opens folder by folder, so that no link on the way is followed; nothing when there is no such file or
/// folder.
[[nodiscard]] collection::Result<std::optional<Descriptor>> open_beneath(const std::string& root,
                                                                         std::string_view path);
/// Reads to the end, whatever size the file claims; longer than `collection::max_file_bytes` is an Error.
[[nodiscard]] collection::Result<std::string> read_all(const Descriptor& file, std::string_view path,
                                                       std::size_t expected);
[[nodiscard]] collection::Error unreadable(std::string_view path, std::string_view why);
/// What the system calls an errno.
[[nodiscard]] std::string system_reason(int number);

} // namespace history
