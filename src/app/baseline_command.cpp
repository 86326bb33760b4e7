// sidelint baseline: the file of accepted findings, written, pruned and merged.

#include "app/baseline.hpp"
#include "app/commands.hpp"
#include "app/examine.hpp"
#include "app/output.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <map>
#include <ostream>

namespace app {
namespace {

using report::BaselineEntry;
using Entries = std::vector<BaselineEntry>;

std::string entries_text(std::size_t count) {
    return fmt::format("{} {}", count, count == 1 ? "entry" : "entries");
}

int write_entries(const Entries& entries, const std::string& file, const std::string& told,
                  const Streams& streams, const Environment& environment, Errors errors) {
    const std::string path = (std::filesystem::path(environment.folder) / file).string();
    for (Error& error : write_file(path, "the baseline", report::write_baseline(entries))) {
        errors.push_back(std::move(error));
    }
    if (errors.empty()) {
        return print_and_end(streams, told);
    }
    return end_with(streams, errors);
}

int merge(const BaselineOptions& options, const Streams& streams, const Environment& environment) {
    std::vector<Entries> sides;
    for (const std::string& file : options.sides) {
        auto entries = load_baseline(file, environment);
        if (!entries) {
            return end_with(streams, std::array{entries.error()});
        }
        sides.push_back(std::move(entries).value());
    }
    const Entries merged = report::merge_baselines(sides[0], sides[1], sides[2]);
    return write_entries(merged, options.sides[1],
                         fmt::format("Merged into {}.\n", entries_text(merged.size())), streams, environment,
                         {});
}

/// What was accepted before stays, with its reason; the rest of what is found is accepted for this one.
Entries with_new(const Entries& known, const Entries& found, std::size_t& added) {
    std::map<std::string, std::size_t> left;
    for (const BaselineEntry& entry : known) {
        ++left[entry.fingerprint];
    }
    Entries all = known;
    for (const BaselineEntry& entry : found) {
        if (std::size_t& count = left[entry.fingerprint]; count > 0) {
            --count;
        } else {
            all.push_back(entry);
            ++added;
        }
    }
    return all;
}

int settle(const BaselineOptions& options, Examined& examined, const Streams& streams,
           const Environment& environment) {
    auto& [catalogue, subject, report, errors] = examined;
    const std::string path = (std::filesystem::path(environment.folder) / options.file).string();
    const bool accepts = options.task == BaselineOptions::Task::accept;
    Entries known;
    std::error_code ignored;
    if (!accepts || std::filesystem::exists(path, ignored)) {
        auto loaded = load_baseline(options.file, environment);
        if (!loaded) {
            return end_with(streams, std::array{loaded.error()});
        }
        known = std::move(loaded).value();
    }
    if (accepts) {
        std::size_t added = 0;
        const Entries all = with_new(known, entries_of(report, subject, options.reason), added);
        return write_entries(all, options.file,
                             fmt::format("Accepted {} finding{}; {} holds {}.\n", added,
                                         added == 1 ? "" : "s", report::harmless(options.file),
                                         entries_text(all.size())),
                             streams, environment, errors);
    }
    const Answered answered = accept(report, subject, catalogue, known);
    return write_entries(answered.kept, options.file,
                         fmt::format("Dropped {}; {} holds {}.\n", entries_text(answered.stale.size()),
                                     report::harmless(options.file), entries_text(answered.kept.size())),
                         streams, environment, errors);
}

} // namespace

int run_baseline(const BaselineOptions& options, const Streams& streams, const Environment& environment) {
    if (options.task == BaselineOptions::Task::merge) {
        return merge(options, streams, environment);
    }
    auto loaded = load_and_examine(load_files, options.where, streams, environment);
    if (!loaded) {
        return end_with(streams, loaded.error());
    }
    Examined examined = std::move(loaded).value();
    if (!examined.errors.empty()) {
        return end_with(streams, examined.errors); // what could not be read must not be dropped
    }
    return settle(options, examined, streams, environment);
}

} // namespace app
