// sidelint hook: puts a hook into a repository, takes it away, and is what the hook calls.

#include "app/commands.hpp"
#include "app/output.hpp"
#include "history/repository.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <istream>
#include <iterator>
#include <ostream>
#include <sstream>

namespace app {
namespace {

namespace fs = std::filesystem;

constexpr const char* script = R"sh(#!/bin/sh
# Written by `sidelint hook add {0}`; `sidelint hook remove {0}` takes it away.
command -v sidelint >/dev/null 2>&1 || {{
    echo "sidelint is not on the PATH, so the puzzles were not checked ($0)" >&2
    exit 1
}}
exec sidelint hook run {0} "$@"
)sh";

using Errors = std::vector<Error>;

enum class Held : std::uint8_t { nothing, ours, foreign };

Held held_at(const fs::path& path, const std::string& hook) {
    std::error_code ignored;
    if (!fs::exists(fs::symlink_status(path, ignored))) {
        return Held::nothing;
    }
    std::ifstream file(path, std::ios::binary);
    const std::string text(std::istreambuf_iterator<char>(file), {});
    return text.starts_with(fmt::format("#!/bin/sh\n# Written by `sidelint hook add {}`", hook))
               ? Held::ours
               : Held::foreign;
}

Error foreign(const fs::path& path, const std::string& hook) {
    return usage_error(fmt::format("{} is a hook of your own and stays as it is", path.string()),
                       fmt::format("call from it: sidelint hook run {} \"$@\"", hook));
}

Errors add(const fs::path& path, const std::string& hook) {
    std::error_code fault;
    fs::create_directories(path.parent_path(), fault);
    if (Errors errors = write_file(path.string(), "the hook", fmt::format(script, hook)); !errors.empty()) {
        return errors;
    }
    constexpr auto run = fs::perms::owner_exec | fs::perms::group_exec | fs::perms::others_exec;
    fs::permissions(path, run, fs::perm_options::add, fault);
    return fault ? Errors{io_error(path.string(), "cannot make the hook executable: " + fault.message())}
                 : Errors{};
}

/// One line about a hook, or what keeps it from being changed.
Result<std::string> change(const HookOptions& options, const fs::path& path, const std::string& hook,
                           Errors& errors) {
    const Held held = held_at(path, hook);
    const std::string place = report::harmless(path.string());
    if (options.task == HookOptions::Task::list) {
        return fmt::format("{:<12} {}\n", hook,
                           held == Held::nothing ? "none"
                           : held == Held::ours  ? "sidelint's, " + place
                                                 : "another one, " + place);
    }
    if (held == Held::foreign) {
        return board::failure(foreign(path, hook));
    }
    if (options.task == HookOptions::Task::add) {
        Errors failed = add(path, hook);
        const bool done = failed.empty();
        std::move(failed.begin(), failed.end(), std::back_inserter(errors));
        return done ? fmt::format("Wrote {}.\n", place) : std::string();
    }
    if (held == Held::nothing) {
        return fmt::format("There is no {} hook.\n", hook);
    }
    std::error_code fault;
    if (!fs::remove(path, fault) || fault) {
        return board::failure(io_error(path.string(), "cannot remove the hook: " + fault.message()));
    }
    return fmt::format("Removed {}.\n", place);
}

/// One branch of a push, in git's own words (githooks(5)).
struct Update {
    std::string branch; ///< as the receiving side calls it
    std::string before;
    std::string after;
};

/// "local-ref local-id remote-ref remote-id" before a push, "old-id new-id ref" where one is received.
Result<std::vector<Update>> read_updates(std::istream* lines, const std::string& hook) {
    std::vector<Update> updates;
    std::string line;
    while (lines != nullptr && std::getline(*lines, line)) {
        std::istringstream words(line);
        std::vector<std::string> fields(std::istream_iterator<std::string>(words), {});
        const bool sent = hook == "pre-push";
        if (fields.size() != (sent ? 4U : 3U)) {
            return board::failure(usage_error(
                fmt::format("git's line to the {} hook is not understood: {}", hook, report::harmless(line)),
                "hand the hook's standard input on to sidelint"));
        }
        updates.push_back(sent ? Update{fields[2], fields[3], fields[1]}
                               : Update{fields[2], fields[0], fields[1]});
    }
    return updates;
}

bool is_checked(const Update& update) {
    const bool removed = update.after.find_first_not_of('0') == std::string::npos;
    return !removed && update.branch.starts_with("refs/heads/");
}

int check_push(const HookOptions& options, const Streams& streams, const Environment& environment) {
    const auto updates = read_updates(streams.in, options.hooks.front());
    if (!updates) {
        return end_with(streams, std::array{updates.error()});
    }
    const auto repository = history::Repository::open(environment.folder);
    if (!repository) {
        return end_with(streams, std::array{repository.error()});
    }
    int status = 0; // the gravest: 3 outranks 2, which outranks 1
    for (const Update& update : *updates) {
        if (!is_checked(update)) {
            continue;
        }
        const auto pushed = repository->commit(update.after);
        const auto base = pushed ? repository->base_of_push(*pushed, update.before, options.remote) : pushed;
        if (!base) {
            status = std::max(status, end_with(streams, std::array{base.error()}));
            continue;
        }
        CheckOptions check;
        check.allow_empty = true;
        check.commit = update.after;
        check.base = *base;
        if (options.hooks.front() == "pre-receive" && base->kind == history::State::Kind::commit) {
            check.config_from = base->commit; // a push cannot loosen its own gate
        }
        check.outputs.push_back({});
        streams.err << "sidelint: " << report::harmless(update.branch) << '\n' << std::flush;
        status = std::max(status, run_check(check, streams, environment));
    }
    return status;
}

int check_commit(const Streams& streams, const Environment& environment) {
    CheckOptions check;
    check.allow_empty = true;
    check.staged = true;
    check.effort = solve::Effort::draft;
    check.outputs.push_back({});
    return run_check(check, streams, environment);
}

} // namespace

int run_hook(const HookOptions& options, const Streams& streams, const Environment& environment) {
    if (options.task == HookOptions::Task::run) {
        return options.hooks.front() == "pre-commit" ? check_commit(streams, environment)
                                                     : check_push(options, streams, environment);
    }
    const auto repository = history::Repository::open(environment.folder);
    const auto folder =
        repository ? repository->hooks_folder() : Result<std::string>(board::failure(repository.error()));
    if (!folder) {
        return end_with(streams, std::array{folder.error()});
    }
    Errors errors;
    std::string told;
    for (const std::string& hook : options.hooks) {
        auto line = change(options, fs::path(*folder) / hook, hook, errors);
        if (line) {
            told += *line;
        } else {
            errors.push_back(line.error());
        }
    }
    for (Error& error : print(streams, told)) {
        errors.push_back(std::move(error));
    }
    return end_with(streams, errors);
}

} // namespace app
