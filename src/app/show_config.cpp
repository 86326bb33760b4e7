// sidelint check --show-config: the settings in force, and where each comes from.

#include "app/commands.hpp"
#include "app/config_origin.hpp"
#include "app/words.hpp"
#include "config/config.hpp"
#include "rules/check.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <array>

namespace app {
namespace {

using Rows = std::vector<std::vector<std::string>>;

std::string pawns(int hundredths) {
    return fmt::format("{}.{:02}", hundredths / 100, hundredths % 100);
}

std::string patterns(const std::vector<std::string>& globs, std::string_view without) {
    return globs.empty() ? std::string(without) : fmt::format("{}", fmt::join(globs, ", "));
}

void add_settings(Rows& rows, const rules::Settings& settings, const Origins& origins,
                  const std::string& path) {
    const auto add = [&](const char* key, std::string value) {
        rows.push_back({key, std::move(value), origins.of_key(key, path)});
    };
    add("effort", std::string(solve::name(settings.effort)));
    add("win-at", pawns(settings.win_at));
    add("near", pawns(settings.near));
    add("uniqueness", settings.uniqueness == rules::Uniqueness::strict ? "strict" : "usual");
    add("lines", std::string(rules::name(settings.lines)));
}

void add_files(Rows& rows, const rules::Policy& policy, const Origins& origins) {
    rows.push_back({"include", patterns(policy.include, "every puzzle file"), origins.of_key("include", "")});
    rows.push_back({"exclude", patterns(policy.exclude, "nothing"), origins.of_key("exclude", "")});
    for (const collection::TableMapping& table : policy.read.tables) {
        rows.push_back({"tables", table.files, origins.of_key("tables", "")});
    }
    for (const collection::TagMapping& tags : policy.read.tags) {
        rows.push_back({"tags", tags.files, origins.of_key("tags", "")});
    }
    for (const auto& [word, meant] : policy.settings.themes) {
        const std::string means =
            meant.empty() ? "known, not checked" : fmt::format("{}", fmt::join(meant, ", "));
        rows.push_back({"themes", fmt::format("{}: {}", word, means), origins.of_key("themes", "")});
    }
}

void add_overrides(Rows& rows, const rules::Policy& policy, const Origins& origins) {
    for (std::size_t i = 0; i + 1 < policy.overrides.size(); ++i) { // the last is the command line's
        rows.push_back({"overrides", policy.overrides[i].files, origins.of_override(i)});
    }
}

Rows rules_of(const rules::Catalogue& catalogue, const rules::Settings& settings, const Origins& origins,
              const std::string& path) {
    Rows rows;
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        rows.push_back({rule.id, std::string(rules::name(rules::level_of(rule, settings).first)),
                        origins.of_level(rule.id, path)});
        for (const rules::OptionSpec& option : rule.options) {
            rows.push_back({"  " + option.name, rules::option_of(rule, option.name, settings),
                            origins.of_option(rule.id, option.name, path)});
        }
    }
    return rows;
}

/// A path that is a file is judged as that file; all else as what has no settings of its own.
std::string text_for(const std::string& path, const Configuration& found, const Origins& origins,
                     const rules::Catalogue& catalogue) {
    const rules::Settings settings = path.empty() ? found.policy.settings : found.policy.for_file(path);
    Rows rows;
    add_settings(rows, settings, origins, path);
    if (path.empty()) {
        add_files(rows, found.policy, origins);
        add_overrides(rows, found.policy, origins);
    }
    const Rows rules = rules_of(catalogue, settings, origins, path);
    rows.push_back({});
    rows.insert(rows.end(), rules.begin(), rules.end());
    const std::string head =
        path.empty() ? std::string()
        : found.policy.wants(path)
            ? fmt::format("For {}\n", report::harmless(path))
            : fmt::format("For {}, which is left out unless it is named (include, exclude)\n",
                          report::harmless(path));
    return head + in_columns(rows) + "\n";
}

} // namespace

int run_show_config(const CheckOptions& options, const Streams& streams, const Environment& environment) {
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    if (!catalogue) {
        return end_with(streams, std::array{Error{Error::Kind::internal, catalogue.error(), {}, {}}});
    }
    const auto workspace = find_workspace(environment, options.places(), std::nullopt);
    if (!workspace) {
        return end_with(streams, std::array{workspace.error()});
    }
    const auto found = configuration_here(options, environment, *workspace, *catalogue);
    if (!found) {
        return end_with(streams, found.error());
    }
    const Origins origins(*found, options);
    std::string text =
        found->place.empty()
            ? fmt::format("No {} from here upward: the defaults count.\n\n", config::file_name)
            : fmt::format("Configuration: {}{}\n\n", report::harmless(found->place),
                          report::harmless(options.config_from ? " of " + *options.config_from : ""));
    std::vector<std::string> files;
    for (const std::string& path : workspace->paths) {
        if (may_hold_puzzles(path, found->policy)) {
            files.push_back(path);
        }
    }
    if (files.empty()) {
        files.emplace_back();
    }
    for (const std::string& path : files) {
        text += text_for(path, *found, origins, *catalogue);
    }
    return print_and_end(streams, text);
}

} // namespace app
