#pragma once
// A file descriptor as an owned value, and the error for a file that cannot be read.

#include "collection/error.hpp"

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

[[nodiscard]] collection::Error unreadable(std::string_view path, std::string_view why);
/// What the system calls an errno.
[[nodiscard]] std::string system_reason(int number);

} // namespace history
