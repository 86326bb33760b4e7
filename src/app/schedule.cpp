#include "app/schedule.hpp"

#include <algorithm>
#include <atomic>
#include <fstream>
#include <string>
#include <system_error>
#include <thread>
#include <vector>

#ifdef __linux__
#include <sched.h>
#endif

namespace app {
namespace {

std::size_t processors_by_affinity() {
#ifdef __linux__
    cpu_set_t set;
    CPU_ZERO(&set);
    if (sched_getaffinity(0, sizeof set, &set) == 0) {
        return static_cast<std::size_t>(CPU_COUNT(&set));
    }
#endif
    return std::thread::hardware_concurrency();
}

/// Whole processors of the control group's quota (cgroup v2); `most` when there is none.
std::size_t processors_by_quota(std::size_t most) {
    std::ifstream file("/sys/fs/cgroup/cpu.max");
    std::string quota;
    double period = 0;
    if (!(file >> quota >> period) || quota == "max" || period <= 0) {
        return most;
    }
    const double processors = std::strtod(quota.c_str(), nullptr) / period;
    return processors < 1 ? 1 : std::min(most, static_cast<std::size_t>(processors));
}

} // namespace

void for_each_index(std::size_t count, std::size_t jobs, const std::function<void(std::size_t)>& work) {
    std::atomic<std::size_t> next{0};
    const auto run = [&] {
        for (std::size_t i = next.fetch_add(1); i < count; i = next.fetch_add(1)) {
            work(i);
        }
    };
    std::vector<std::jthread> others; // joined on the way out
    try {
        for (std::size_t i = 1; i < std::min(jobs, count); ++i) {
            others.emplace_back(run);
        }
    } catch (const std::system_error&) {
        // The system grants no more threads: those there are do all the work.
    }
    run();
}

std::size_t usable_processors() {
    const std::size_t by_affinity = std::max<std::size_t>(processors_by_affinity(), 1);
    return processors_by_quota(by_affinity);
}

} // namespace app
