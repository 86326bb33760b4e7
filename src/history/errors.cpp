#include "history/opened.hpp"

#include <fmt/format.h>

#include <array>
#include <filesystem>

namespace history {

namespace {

/// A remote that promised to send objects later: the clone was made with --filter.
bool has_promisor(git_repository* repository) {
    ConfigHandle config;
    ConfigIteratorHandle entries;
    if (git_repository_config_snapshot(into(config), repository) != 0 ||
        git_config_iterator_new(into(entries), config.get()) != 0) {
        return false;
    }
    for (git_config_entry* entry = nullptr; git_config_next(&entry, entries.get()) == 0;) {
        const std::string_view name = entry->name;
        if (name.starts_with("remote.") && name.ends_with(".promisor")) {
            return true;
        }
    }
    return false;
}

} // namespace

bool is_shallow(git_repository* repository) {
    std::error_code ignored;
    const std::filesystem::path mark =
        std::filesystem::path(git_repository_commondir(repository)) / "shallow";
    const auto size = std::filesystem::file_size(mark, ignored);
    return !ignored && size > 0;
}

std::string last_message() {
    const git_error* error = git_error_last();
    return error == nullptr || error->message == nullptr ? "no reason given" : error->message;
}

Error refused(std::string message, std::string cure) {
    Error error;
    error.kind = Error::Kind::repository;
    error.message = std::move(message);
    error.cure = std::move(cure);
    return error;
}

std::string deepen_cure() {
    return "git fetch --deepen=100 (or --unshallow); in CI: fetch-depth: 0 (GitHub), GIT_DEPTH: 0 (GitLab)";
}

Error missing(git_repository* repository, std::string_view what, int code) {
    const std::string reason = last_message();
    if (code != GIT_ENOTFOUND) {
        return refused(fmt::format("cannot read {}: {}", what, reason));
    }
    if (is_shallow(repository)) {
        return refused(fmt::format("cannot find {}: this clone is shallow, its history is cut off", what),
                       deepen_cure());
    }
    if (has_promisor(repository)) {
        return refused(
            fmt::format("cannot find {}: this clone is partial, some objects were left behind", what),
            "clone again without --filter (in CI: no `filter:` on the checkout)");
    }
    return refused(fmt::format("cannot find {}: {}", what, reason),
                   "git fsck tells whether the repository is damaged");
}

std::string hex(const git_oid& id) {
    std::array<char, GIT_OID_HEXSZ + 1> text{};
    git_oid_tostr(text.data(), text.size(), &id);
    return text.data();
}

std::string brief(std::string_view id) {
    return std::string(id.substr(0, 7));
}

} // namespace history
