#include "app/subject.hpp"

#include "app/schedule.hpp"
#include "config/config.hpp"
#include "config/rules.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace app {
namespace {

/// The rules a name stands for: itself, or all of a family. Spelt out, a family overrules single rules set
/// before.
std::vector<std::string> rules_named(const std::string& name, const rules::Catalogue& catalogue) {
    std::vector<std::string> ids;
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        const std::string family = rule.id.substr(0, rule.id.find('/')) + "/*";
        if (rule.id == name || family == name) {
            ids.push_back(rule.id);
        }
    }
    return ids;
}

/// As an override of its own behind all others.
std::optional<Error> apply_command_line(rules::Policy& policy, const CheckOptions& options,
                                        const rules::Catalogue& catalogue) {
    rules::Override last;
    last.files = "**";
    last.effort = options.effort;
    for (const auto& [name, level] : options.levels) {
        const std::vector<std::string> ids = rules_named(name, catalogue);
        if (ids.empty()) {
            const auto near = rules::nearest(name, config::rule_names(catalogue));
            return usage_error(fmt::format("--rule: unknown rule '{}'", name),
                               near.empty() ? "sidelint explain lists the rules"
                                            : fmt::format("did you mean {}?", fmt::join(near, " or ")));
        }
        for (const std::string& id : ids) {
            last.levels[id] = level;
            policy.settings.levels[id] = level; // switched off, a rule about the whole is not even asked
        }
    }
    policy.settings.effort = options.effort.value_or(policy.settings.effort);
    if (options.excluded_too) {
        policy.exclude.clear();
    }
    policy.overrides.push_back(std::move(last));
    return std::nullopt;
}

Result<std::string> read_named_config(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::string text{std::istreambuf_iterator<char>(file), {}};
    if (!file.is_open() || file.bad()) {
        return board::failure(Error{Error::Kind::config, "cannot read this configuration", path, {}});
    }
    return text;
}

std::string folder_of(const std::string& place) {
    const std::size_t slash = place.rfind('/');
    return slash == std::string::npos ? "" : place.substr(0, slash);
}

} // namespace

board::Result<Configuration, Errors>
find_configuration(const CheckOptions& options, const Environment& environment, const Workspace& workspace,
                   const rules::Catalogue& catalogue, const TextAt& text_at) {
    Configuration found;
    std::string folder;
    if (options.config) {
        auto text = read_named_config((std::filesystem::path(environment.folder) / *options.config).string());
        if (!text) {
            return board::failure(Errors{text.error()});
        }
        found.place = *options.config;
        found.text = std::move(text).value();
    } else {
        for (const std::string& place : config_places(workspace)) {
            auto text = text_at(place);
            if (!text) {
                return board::failure(Errors{text.error()});
            }
            if (*text) {
                found.place = place;
                found.text = std::move(*text.value());
                folder = folder_of(place);
                break;
            }
        }
    }
    if (!found.place.empty()) {
        auto policy = config::read(found.text, found.place, folder, catalogue);
        if (!policy) {
            return board::failure(std::move(policy).error());
        }
        found.policy = std::move(policy).value();
    }
    if (auto fault = apply_command_line(found.policy, options, catalogue)) {
        return board::failure(Errors{std::move(*fault)});
    }
    return found;
}

namespace {

/// A thread costs more than reading a few small files.
std::size_t worthwhile(const std::vector<FileText>& files, std::size_t jobs) {
    constexpr std::size_t a_job = 100'000; // bytes
    std::size_t bytes = 0;
    for (const FileText& file : files) {
        bytes += file.bytes ? file.bytes->size() : 0;
    }
    return std::min(jobs, bytes / a_job + 1);
}

} // namespace

bool may_hold_puzzles(std::string_view path, const rules::Policy& policy) {
    // Whether a .yaml file holds puzzles shows in its text only: the key stands for one that does.
    return collection::format_of(path, "puzzles:", policy.read) != collection::Format::none;
}

std::vector<collection::Document> read_documents(std::vector<FileText> files, const rules::Policy& policy,
                                                 std::size_t jobs, Errors& errors) {
    std::vector<collection::Document> documents(files.size());
    for_each_index(files.size(), worthwhile(files, jobs), [&](std::size_t i) {
        FileText& file = files[i];
        documents[i] =
            file.bytes ? collection::read(std::move(file.path), std::move(file.bytes).value(), policy.read)
                       : collection::unreadable(std::move(file.path), file.bytes.error().message,
                                                file.bytes.error().cure);
    });
    for (const FileText& file : files) {
        if (!file.bytes) {
            errors.push_back(file.bytes.error());
        }
    }
    const auto is_no_puzzle_file = [](const collection::Document& document) {
        return document.format == collection::Format::none && document.faults.empty();
    };
    documents.erase(std::remove_if(documents.begin(), documents.end(), is_no_puzzle_file), documents.end());
    return documents;
}

Error nothing_matched(const Workspace& workspace, const rules::Policy& policy) {
    std::string message = workspace.named.empty()
                              ? "no puzzle file here"
                              : fmt::format("no puzzle file in {}", fmt::join(workspace.named, ", "));
    if (!policy.include.empty()) {
        message += fmt::format("; included are {}", fmt::join(policy.include, ", "));
    }
    if (!policy.exclude.empty()) {
        message += fmt::format("; excluded are {}", fmt::join(policy.exclude, ", "));
    }
    return usage_error(std::move(message),
                       "read are .pgn, .epd, .yaml with `puzzles:`, and tables named in .sidelint.yaml; "
                       "--allow-empty makes this no error");
}

} // namespace app
