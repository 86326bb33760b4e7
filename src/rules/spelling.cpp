#include "rules/spelling.hpp"

#include "rules/catalogue.hpp"

#include <algorithm>

namespace rules {

namespace {

struct Known {
    std::string text;
    std::string meaning; ///< two spellings of one thing are no doubt
};

std::vector<Known> known_to(const PuzzleView& view) {
    std::vector<Known> known;
    for (const MotifEntry& motif : view.catalogue().motifs()) {
        known.push_back({motif.name, motif.motif});
        for (const std::string& alias : motif.aliases) {
            known.push_back({alias, motif.motif});
        }
    }
    for (const auto& [word, motifs] : view.settings().themes) {
        known.push_back({word, motifs.size() == 1 ? motifs.front() : "\n" + word});
    }
    return known;
}

std::string squeezed(std::string_view theme) {
    std::string result = folded(theme);
    std::erase(result, ' ');
    return result;
}

} // namespace

std::optional<Spelling> spelling_of(const PuzzleView& view, std::string_view theme) {
    constexpr std::size_t shortest_sure = 5; // "pin" is a letter away from too much
    constexpr std::size_t longest = 80;      // hostile input: nobody misspells longer words
    const std::string wanted = squeezed(theme);
    if (wanted.empty() || wanted.size() > longest) {
        return std::nullopt;
    }
    const std::size_t most = std::max<std::size_t>(1, wanted.size() / 3);
    std::size_t nearest_by = most + 1;
    std::optional<Known> found;
    bool doubtful = false;
    for (const Known& one : known_to(view)) {
        const std::size_t distance = edit_distance(wanted, squeezed(one.text));
        if (distance > nearest_by || distance > most) {
            continue;
        }
        doubtful = distance == nearest_by && (doubtful || found->meaning != one.meaning);
        if (distance < nearest_by) {
            nearest_by = distance;
            found = one;
        }
    }
    if (!found || doubtful) {
        return std::nullopt;
    }
    return Spelling{found->text, nearest_by == 0 || (nearest_by == 1 && wanted.size() >= shortest_sure)};
}

} // namespace rules
