#include "rules/catalogue.hpp"

#include <algorithm>
#include <numeric>

namespace rules {

std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t change = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
            diagonal = row[j];
            row[j] = std::min({row[j] + 1, row[j - 1] + 1, change});
        }
    }
    return row[b.size()];
}

std::vector<std::string> nearest(std::string_view text, const std::vector<std::string>& candidates) {
    constexpr std::size_t longest = 80; // hostile input: nobody misspells longer words
    std::vector<std::pair<std::size_t, std::string>> scored;
    if (text.size() > longest) {
        return {};
    }
    for (const std::string& candidate : candidates) {
        const std::size_t distance = edit_distance(text, candidate);
        if (distance <= std::max<std::size_t>(1, text.size() / 3)) {
            scored.emplace_back(distance, candidate);
        }
    }
    std::sort(scored.begin(), scored.end());
    std::vector<std::string> result;
    for (const auto& [distance, candidate] : scored) {
        if (result.size() == 3) {
            break;
        }
        result.push_back(candidate);
    }
    return result;
}

} // namespace rules
