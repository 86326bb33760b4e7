#include "app/progress.hpp"

#include <fmt/format.h>

#include <ostream>

namespace app {
namespace {

constexpr std::string_view erased = "\r\x1b[K";
constexpr auto pause = std::chrono::milliseconds(100);

} // namespace

void Progress::advance() {
    const std::size_t done = ++m_done;
    if (m_shown == Shown::no || !m_writing.try_lock()) {
        return; // somebody else is writing
    }
    const std::lock_guard lock(m_writing, std::adopt_lock);
    const auto now = Clock::now();
    if (now < m_due) {
        return;
    }
    m_due = now + pause;
    m_written = true;
    m_err << erased << fmt::format("checked {} of {} puzzles", done, m_total.load()) << std::flush;
}

Progress::~Progress() {
    if (m_written) {
        m_err << erased << std::flush;
    }
}

} // namespace app
