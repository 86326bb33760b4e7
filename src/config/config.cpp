#include "config/config.hpp"

#include "config/keys.hpp"
#include "rules/check.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace config {
namespace {

template <class T> void take(T& into, const std::optional<T>& from) {
    if (from) {
        into = *from;
    }
}

} // namespace

board::Result<rules::Policy, std::vector<Error>> read(std::string_view bytes, std::string_view name,
                                                      std::string_view folder,
                                                      const rules::Catalogue& catalogue) {
    auto tree = read_yaml(bytes, name);
    if (!tree) {
        return board::failure(std::move(tree).error());
    }
    Reader reader(name, folder, catalogue);
    rules::Policy policy;
    rules::Override base;
    reader.read(*tree, settings_keys(), base, top_keys(), policy);
    take(policy.settings.effort, base.effort);
    take(policy.settings.win_at, base.win_at);
    take(policy.settings.near, base.near);
    take(policy.settings.uniqueness, base.uniqueness);
    take(policy.settings.lines, base.lines);
    policy.settings.levels = std::move(base.levels);
    policy.settings.options = std::move(base.options);
    if (!reader.errors().empty()) {
        return board::failure(std::move(reader.errors()));
    }
    return policy;
}

namespace {

/// Both ways let something pass: a key that falls short, or a rival that no longer counts.
void compare_pawns(std::vector<std::string>& lines, std::string_view key, int was, int now) {
    if (was != now) {
        lines.push_back(fmt::format("{}: {:.2f} -> {:.2f}", key, was / 100.0, now / 100.0));
    }
}

std::vector<std::string> looser(const rules::Settings& before, const rules::Settings& after,
                                const rules::Catalogue& catalogue) {
    std::vector<std::string> lines;
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        const rules::Severity was = rules::level_of(rule, before).first;
        const rules::Severity now = rules::level_of(rule, after).first;
        if (now < was) {
            lines.push_back(fmt::format("{}: {} -> {}", rule.id, rules::name(was), rules::name(now)));
        }
    }
    if (after.effort < before.effort) {
        lines.push_back(
            fmt::format("effort: {} -> {}", solve::name(before.effort), solve::name(after.effort)));
    }
    compare_pawns(lines, "win-at", before.win_at, after.win_at);
    compare_pawns(lines, "near", before.near, after.near);
    for (const std::string& motif : after.wide) {
        if (!before.wide.contains(motif)) {
            lines.push_back(fmt::format("themes, wide: {}", motif));
        }
    }
    if (after.uniqueness < before.uniqueness) {
        lines.emplace_back("uniqueness: strict -> usual");
    }
    if (after.lines < before.lines) {
        lines.push_back(fmt::format("lines: {} -> {}", rules::name(before.lines), rules::name(after.lines)));
    }
    return lines;
}

/// The patterns of both, each once.
std::vector<std::string> patterns_of(const rules::Policy& before, const rules::Policy& after) {
    std::vector<std::string> patterns;
    for (const rules::Policy* const policy : {&before, &after}) {
        for (const rules::Override& change : policy->overrides) {
            if (std::find(patterns.begin(), patterns.end(), change.files) == patterns.end()) {
                patterns.push_back(change.files);
            }
        }
    }
    return patterns;
}

/// A pattern stands for the files it fits: what fits it as a path is wider.
std::string_view as_path(std::string_view pattern) {
    return pattern.substr(pattern.starts_with('/') ? 1 : 0);
}

} // namespace

std::vector<std::string> loosened(const rules::Policy& before, const rules::Policy& after,
                                  const rules::Catalogue& catalogue) {
    std::vector<std::string> lines = looser(before.settings, after.settings, catalogue);
    const std::vector<std::string> everywhere = lines;
    for (const std::string& pattern : patterns_of(before, after)) {
        const std::string_view path = as_path(pattern);
        for (const std::string& line : looser(before.for_file(path), after.for_file(path), catalogue)) {
            if (std::find(everywhere.begin(), everywhere.end(), line) == everywhere.end()) {
                lines.push_back(fmt::format("{} in {}", line, pattern));
            }
        }
    }
    for (const std::string& glob : after.exclude) {
        if (std::find(before.exclude.begin(), before.exclude.end(), glob) == before.exclude.end()) {
            lines.push_back(fmt::format("excluded: {}", glob));
        }
    }
    if (!after.include.empty() && after.include != before.include) {
        lines.emplace_back("include: other patterns");
    }
    return lines;
}

} // namespace config
