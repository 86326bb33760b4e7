#include "collection/document.hpp"
#include "collection/text.hpp"

#include <algorithm>

namespace collection {

namespace {

/// One step of a pattern: a character to be met, or a wildcard.
struct Step {
    enum class Kind : std::uint8_t { character, any_character, any_in_part, any_across } kind;
    char32_t code = 0;
};

std::vector<Step> steps_of(std::string_view pattern) {
    std::vector<Step> steps;
    for (std::size_t at = 0; at < pattern.size();) {
        if (pattern.substr(at, 2) == "**") {
            steps.push_back({Step::Kind::any_across});
            at = std::min(pattern.find_first_not_of('*', at), pattern.size());
        } else if (pattern[at] == '*') {
            steps.push_back({Step::Kind::any_in_part});
            ++at;
        } else if (pattern[at] == '?') {
            steps.push_back({Step::Kind::any_character});
            ++at;
        } else {
            const Character c = character_at(pattern, at);
            steps.push_back({Step::Kind::character, c.code});
            at += c.length;
        }
    }
    return steps;
}

bool is_wide(const Step& step) {
    return step.kind == Step::Kind::any_in_part || step.kind == Step::Kind::any_across;
}

/// All steps that a match could stand before at once, so that no pattern makes it slow.
enum class Mark : std::uint8_t { none, stayed, entered };
using Places = std::vector<Mark>;

/// Wildcards also stand for nothing, and "**/" for no part at all.
void skip_wildcards(const std::vector<Step>& steps, Places& places) {
    for (std::size_t i = 0; i < steps.size(); ++i) {
        if (places[i] == Mark::none || !is_wide(steps[i])) {
            continue;
        }
        places[i + 1] = Mark::entered;
        const bool whole_parts = steps[i].kind == Step::Kind::any_across && i + 1 < steps.size() &&
                                 steps[i + 1].code == '/' && (i == 0 || steps[i - 1].code == '/');
        if (whole_parts && places[i] == Mark::entered) {
            places[i + 2] = Mark::entered;
        }
    }
}

Places advance(const std::vector<Step>& steps, const Places& places, char32_t code) {
    Places next(places.size(), Mark::none);
    for (std::size_t i = 0; i < steps.size(); ++i) {
        if (places[i] == Mark::none) {
            continue;
        }
        const Step& step = steps[i];
        if (step.kind == Step::Kind::any_across || (step.kind == Step::Kind::any_in_part && code != '/')) {
            next[i] = std::max(next[i], Mark::stayed);
        } else if ((step.kind == Step::Kind::character && step.code == code) ||
                   (step.kind == Step::Kind::any_character && code != '/')) {
            next[i + 1] = Mark::entered;
        }
    }
    skip_wildcards(steps, next);
    return next;
}

} // namespace

bool glob_matches(std::string_view pattern, std::string_view path) {
    if (pattern.find('/') == std::string_view::npos) {
        path.remove_prefix(path.rfind('/') + 1); // npos + 1 is 0
    } else if (pattern.front() == '/') {
        pattern.remove_prefix(1);
    }
    const std::vector<Step> steps = steps_of(pattern);
    Places places(steps.size() + 1, Mark::none);
    places.front() = Mark::entered;
    skip_wildcards(steps, places);
    for (std::size_t at = 0; at < path.size();) {
        const Character c = character_at(path, at);
        places = advance(steps, places, c.code);
        at += c.length;
    }
    return places.back() != Mark::none;
}

} // namespace collection
