#include "history/rising.hpp"

#include <algorithm>

namespace history {

std::vector<bool> longest_rising(std::span<const std::size_t> values) {
    constexpr std::size_t nowhere = static_cast<std::size_t>(-1);
    std::vector<std::size_t> previous(values.size(), nowhere);
    std::vector<std::size_t> tails; // by length: the place where a rising run of that length ends lowest
    for (std::size_t i = 0; i < values.size(); ++i) {
        const auto place =
            std::lower_bound(tails.begin(), tails.end(), values[i],
                             [&](std::size_t at, std::size_t value) { return values[at] < value; });
        if (place != tails.begin()) {
            previous[i] = *(place - 1);
        }
        if (place == tails.end()) {
            tails.push_back(i);
        } else {
            *place = i;
        }
    }
    std::vector<bool> marked(values.size(), false);
    for (std::size_t i = tails.empty() ? nowhere : tails.back(); i != nowhere; i = previous[i]) {
        marked[i] = true;
    }
    return marked;
}

} // namespace history
