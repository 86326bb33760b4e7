// What git's hooks need: where they stand, and what a pushed commit is compared with.
#include "history/opened.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

namespace history {

namespace {

namespace fs = std::filesystem;

bool is_zero(std::string_view id) {
    return id.find_first_not_of('0') == std::string_view::npos;
}

/// The names under which a branch that others start from may be known, likeliest first.
std::vector<std::string> main_branches(git_repository* repository, const std::string& remote) {
    if (remote.empty()) {
        return {"HEAD"}; // of a server's repository: its main branch
    }
    const std::string prefix = fmt::format("refs/remotes/{}/", remote);
    std::vector<std::string> names;
    ReferenceHandle head;
    if (git_reference_lookup(into(head), repository, (prefix + "HEAD").c_str()) == 0) {
        names.push_back(prefix + "HEAD");
    }
    names.push_back(prefix + "main");
    names.push_back(prefix + "master");
    return names;
}

} // namespace

Result<std::string> Repository::hooks_folder() const {
    git_repository* repository = m_handles->repository.get();
    const fs::path common = git_repository_commondir(repository);
    ConfigHandle config;
    Buffer set;
    if (git_repository_config_snapshot(into(config), repository) == 0 &&
        git_config_get_path(&set.buf, config.get(), "core.hooksPath") == 0) {
        const fs::path folder = fs::path(root().empty() ? common.string() : root()) / set.buf.ptr;
        const std::string normal = folder.lexically_normal().string();
        const auto within = [&](const fs::path& place) {
            return !place.empty() && normal.starts_with((place / "").lexically_normal().string());
        };
        if (!within(root()) && !within(common)) {
            return board::failure(refused(
                fmt::format("core.hooksPath sends git to {}, which other repositories may share", normal),
                "set it for this repository: git config core.hooksPath .git/hooks"));
        }
        return normal;
    }
    return (common / "hooks").lexically_normal().string();
}

Result<State> Repository::base_of_push(const State& pushed, std::string_view before,
                                       const std::string& remote) const {
    if (!is_zero(before)) {
        auto known = commit(before);
        if (known) {
            known.value().name = fmt::format("{} (what the branch held)", brief(before));
            return known;
        }
        if (is_shallow(m_handles->repository.get())) {
            return known;
        }
    }
    for (const std::string& name : main_branches(m_handles->repository.get(), remote)) {
        const auto branch = commit(name);
        if (!branch || branch->commit == pushed.commit) {
            continue;
        }
        auto parted = merge_base(*branch, pushed);
        if (parted || is_shallow(m_handles->repository.get())) {
            return parted;
        }
    }
    return State{State::Kind::nothing, "", "nothing (a first push)"};
}

} // namespace history
