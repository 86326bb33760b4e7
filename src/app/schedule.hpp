#pragma once
// Work spread over threads. Results are placed by index, so the number of jobs never shows in what is
// written.

#include <cstddef>
#include <functional>

namespace app {

/// Calls `work(0)` ... `work(count - 1)`, each once, on at most `jobs` threads. `work` must not throw.
void for_each_index(std::size_t count, std::size_t jobs, const std::function<void(std::size_t)>& work);

/// Processors this process may use: affinity mask and control group's quota, not the machine's count. At
/// least 1.
[[nodiscard]] std::size_t usable_processors();

} // namespace app
