#include "app/config.hpp"

#include "app/config_keys.hpp"
#include "rules/check.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace app {
namespace {

template <class T> void take(T& into, const std::optional<T>& from) {
    if (from) {
        into = *from;
    }
}

} // namespace

board::Result<rules::Policy, std::vector<Error>> read_config(std::string_view bytes, std::string_view name,
                                                             std::string_view folder,
                                                             const rules::Catalogue& catalogue) {
    auto tree = read_yaml(bytes, name);
    if (!tree) {
        return board::failure(std::move(tree).error());
    }
    ConfigReader reader(name, folder, catalogue);
    rules::Policy policy;
    rules::Override base;
    reader.read(*tree, settings_keys(), base, top_keys(), policy);
    take(policy.settings.effort, base.effort);
    take(policy.settings.win_at, base.win_at);
    take(policy.settings.near, base.near);
    take(policy.settings.uniqueness, base.uniqueness);
    policy.settings.levels = std::move(base.levels);
    policy.settings.options = std::move(base.options);
    if (!reader.errors().empty()) {
        return board::failure(std::move(reader.errors()));
    }
    return policy;
}

std::vector<std::string> loosened(const rules::Policy& before, const rules::Policy& after,
                                  const rules::Catalogue& catalogue) {
    std::vector<std::string> lines;
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        const rules::Severity was = rules::level_of(rule, before.settings).first;
        const rules::Severity now = rules::level_of(rule, after.settings).first;
        if (now < was) {
            lines.push_back(fmt::format("{}: {} -> {}", rule.id, rules::name(was), rules::name(now)));
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
    if (after.settings.effort < before.settings.effort) {
        lines.push_back(fmt::format("effort: {} -> {}", solve::name(before.settings.effort),
                                    solve::name(after.settings.effort)));
    }
    if (after.settings.near < before.settings.near) {
        lines.push_back(
            fmt::format("near: {:.2f} -> {:.2f}", before.settings.near / 100.0, after.settings.near / 100.0));
    }
    if (after.settings.uniqueness < before.settings.uniqueness) {
        lines.emplace_back("uniqueness: strict -> usual");
    }
    return lines;
}

} // namespace app
