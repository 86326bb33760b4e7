#include "rules/policy.hpp"

#include <algorithm>

namespace rules {

namespace {

template <class T> void take(T& into, const std::optional<T>& from) {
    if (from) {
        into = *from;
    }
}

bool fits_any(const std::vector<std::string>& globs, std::string_view path) {
    return std::any_of(globs.begin(), globs.end(),
                       [path](const std::string& glob) { return collection::glob_matches(glob, path); });
}

} // namespace

std::string_view name(Lines lines) {
    switch (lines) {
    case Lines::key:
        return "key";
    case Lines::main:
        return "main";
    case Lines::full:
        break;
    }
    return "full";
}

Settings Policy::for_file(std::string_view path) const {
    Settings result = settings;
    for (const Override& change : overrides) {
        if (!collection::glob_matches(change.files, path)) {
            continue;
        }
        take(result.effort, change.effort);
        take(result.win_at, change.win_at);
        take(result.near, change.near);
        take(result.uniqueness, change.uniqueness);
        take(result.lines, change.lines);
        for (const auto& [rule, level] : change.levels) {
            result.levels[rule] = level;
        }
        for (const auto& [rule, options] : change.options) {
            for (const auto& [option, value] : options) {
                result.options[rule][option] = value;
            }
        }
    }
    return result;
}

bool Policy::wants(std::string_view path) const {
    return (include.empty() || fits_any(include, path)) && !fits_any(exclude, path);
}

} // namespace rules
