#pragma once
// One line on a terminal for those who wait.

#include "app/run.hpp"

#include <atomic>
#include <chrono>
#include <cstddef>
#include <mutex>

namespace app {

/// "checked 120 of 4000 puzzles", written over itself on a terminal's standard error after a second, erased
/// at the end.
class Progress {
  public:
    enum class Shown : bool { no, yes };

    Progress(std::ostream& err, Shown shown) : m_err(err), m_shown(shown) {}
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    void expect(std::size_t more) { m_total += more; }
    /// One more is done. Any thread may call.
    void advance();

  private:
    using Clock = std::chrono::steady_clock;

    std::ostream& m_err;
    const Shown m_shown;
    std::atomic<std::size_t> m_done{0};
    std::atomic<std::size_t> m_total{0};
    std::mutex m_writing; ///< guards what follows
    Clock::time_point m_due = Clock::now() + std::chrono::seconds(1);
    bool m_written = false;
};

} // namespace app
