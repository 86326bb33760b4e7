#include "history/descriptor.hpp"
#include "history/entries.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <dirent.h>
#include <fcntl.h>
#include <sys/stat.h>

namespace history {

namespace {

struct CloseFolder {
    void operator()(DIR* folder) const { ::closedir(folder); }
};
using Folder = std::unique_ptr<DIR, CloseFolder>;

struct Tracked {
    std::string_view path;
    const git_index_entry* entry;
};

/// The walk over the worktree. A folder's descriptor stays open while its inside is walked.
class Walk {
  public:
    Walk(git_repository* repository, git_index* index, const rules::Policy& policy,
         std::vector<std::string>& skipped);
    std::optional<Error> folder(Folder opened, const std::string& path, std::size_t depth);
    std::vector<Entry> take() &&;

  private:
    std::optional<Error> meet(int folder, const dirent& found, const std::string& path, std::size_t depth);
    std::optional<Error> meet_folder(int folder, const char* name, const std::string& path,
                                     std::size_t depth);
    [[nodiscard]] const git_index_entry* tracked(std::string_view path) const;
    [[nodiscard]] bool tracks_beneath(const std::string& folder) const;
    [[nodiscard]] bool is_unchanged(const git_index_entry& entry, const struct stat& status) const;
    [[nodiscard]] bool is_ignored(const std::string& path) const;

    git_repository* m_repository;
    const rules::Policy& m_policy;
    std::vector<std::string>& m_skipped;
    std::vector<Tracked> m_tracked;   ///< sorted by path
    std::int64_t m_index_written = 0; ///< nanoseconds
    std::vector<Entry> m_found;
    Bounds m_bounds;
};

std::int64_t nanoseconds(std::int64_t seconds, std::int64_t rest) {
    return seconds * 1'000'000'000 + rest;
}

std::int64_t modified(const struct stat& status) {
#ifdef __APPLE__
    return nanoseconds(status.st_mtimespec.tv_sec, status.st_mtimespec.tv_nsec);
#else
    return nanoseconds(status.st_mtim.tv_sec, status.st_mtim.tv_nsec);
#endif
}

Walk::Walk(git_repository* repository, git_index* index, const rules::Policy& policy,
           std::vector<std::string>& skipped)
    : m_repository(repository), m_policy(policy), m_skipped(skipped) {
    const std::size_t count = git_index_entrycount(index);
    m_tracked.reserve(count);
    for (std::size_t i = 0; i < count; ++i) {
        const git_index_entry* entry = git_index_get_byindex(index, i);
        m_tracked.push_back({entry->path, entry});
    }
    std::sort(m_tracked.begin(), m_tracked.end(),
              [](const Tracked& a, const Tracked& b) { return a.path < b.path; });
    struct stat status {};
    const char* file = git_index_path(index);
    m_index_written = file != nullptr && ::stat(file, &status) == 0 ? modified(status) : 0;
}

const git_index_entry* Walk::tracked(std::string_view path) const {
    const auto place = std::lower_bound(m_tracked.begin(), m_tracked.end(), path,
                                        [](const Tracked& a, std::string_view b) { return a.path < b; });
    return place != m_tracked.end() && place->path == path ? place->entry : nullptr;
}

bool Walk::tracks_beneath(const std::string& folder) const {
    const std::string prefix = folder + "/";
    const auto place = std::lower_bound(m_tracked.begin(), m_tracked.end(), prefix,
                                        [](const Tracked& a, std::string_view b) { return a.path < b; });
    return place != m_tracked.end() && place->path.substr(0, prefix.size()) == prefix;
}

/// The index's own memory of the file: as git, it is believed only when the file is older than the index.
bool Walk::is_unchanged(const git_index_entry& entry, const struct stat& status) const {
    const std::int64_t written = modified(status);
    return (entry.flags_extended & GIT_INDEX_ENTRY_INTENT_TO_ADD) == 0 &&
           kind_of_mode(entry.mode) == Entry::Kind::file && written < m_index_written &&
           written == nanoseconds(entry.mtime.seconds, entry.mtime.nanoseconds) &&
           entry.file_size == static_cast<std::uint32_t>(status.st_size) &&
           entry.ino == static_cast<std::uint32_t>(status.st_ino);
}

bool Walk::is_ignored(const std::string& path) const {
    int ignored = 0;
    return git_ignore_path_is_ignored(&ignored, m_repository, path.c_str()) == 0 && ignored != 0;
}

std::optional<Error> Walk::meet_folder(int folder_at, const char* name, const std::string& path,
                                       std::size_t depth) {
    const git_index_entry* entry = tracked(path);
    const bool module = entry != nullptr && kind_of_mode(entry->mode) == Entry::Kind::module;
    const bool beneath = tracks_beneath(path);
    if (!module && !beneath && is_ignored(path + "/")) {
        return std::nullopt;
    }
    Descriptor at(::openat(folder_at, name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC));
    if (!at.ok()) {
        if (beneath) {
            return unreadable(path, system_reason(errno));
        }
        m_skipped.push_back(fmt::format("{}: cannot be opened ({}), left out", path, system_reason(errno)));
        return std::nullopt;
    }
    const bool own_repository = !beneath && ::faccessat(at.get(), ".git", F_OK, AT_SYMLINK_NOFOLLOW) == 0;
    if (module || own_repository) {
        if (m_policy.wants(path)) {
            m_found.push_back(
                {path, Entry::Kind::module, module ? std::optional(entry->id) : std::nullopt, true});
        }
        return std::nullopt;
    }
    Folder opened(::fdopendir(at.get()));
    if (opened == nullptr) {
        return unreadable(path, system_reason(errno));
    }
    at.release();
    return folder(std::move(opened), path, depth + 1);
}

std::optional<Error> Walk::meet(int folder_at, const dirent& found, const std::string& path,
                                std::size_t depth) {
    struct stat status {};
    if (found.d_type == DT_DIR) {
        return meet_folder(folder_at, found.d_name, path, depth);
    }
    if (::fstatat(folder_at, found.d_name, &status, AT_SYMLINK_NOFOLLOW) != 0) {
        return errno == ENOENT ? std::nullopt : std::optional(unreadable(path, system_reason(errno)));
    }
    if (S_ISDIR(status.st_mode)) {
        return meet_folder(folder_at, found.d_name, path, depth);
    }
    const git_index_entry* entry = tracked(path);
    if (!m_policy.wants(path) || (entry == nullptr && is_ignored(path))) {
        return std::nullopt;
    }
    Entry made{path,
               kind_of_mode(status.st_mode).value_or(Entry::Kind::special),
               {},
               true,
               static_cast<std::uint64_t>(status.st_size)};
    if (made.kind == Entry::Kind::file && entry != nullptr && is_unchanged(*entry, status)) {
        made.id = entry->id;
    }
    m_found.push_back(std::move(made));
    return std::nullopt;
}

std::optional<Error> Walk::folder(Folder opened, const std::string& path, std::size_t depth) {
    for (;;) {
        errno = 0;
        const dirent* found = ::readdir(opened.get());
        if (found == nullptr) {
            return errno == 0 ? std::nullopt : std::optional(unreadable(path, system_reason(errno)));
        }
        const std::string_view name = found->d_name;
        if (name == "." || name == ".." || name == ".git") {
            continue;
        }
        const std::string inside = joined(path, name);
        if (auto error = m_bounds.count(inside, depth)) {
            return error;
        }
        if (auto error = meet(::dirfd(opened.get()), *found, inside, depth)) {
            return error;
        }
    }
}

std::vector<Entry> Walk::take() && {
    // Sparse checkout: what was left out on purpose is no removal.
    for (const Tracked& tracked : m_tracked) {
        const git_index_entry& entry = *tracked.entry;
        if ((entry.flags_extended & GIT_INDEX_ENTRY_SKIP_WORKTREE) != 0 &&
            kind_of_mode(entry.mode) == Entry::Kind::file && m_policy.wants(tracked.path)) {
            m_found.push_back({std::string(tracked.path), Entry::Kind::file, entry.id});
        }
    }
    // A file that is there although it need not be comes first and counts.
    std::stable_sort(m_found.begin(), m_found.end(),
                     [](const Entry& a, const Entry& b) { return a.path < b.path; });
    m_found.erase(std::unique(m_found.begin(), m_found.end(),
                              [](const Entry& a, const Entry& b) { return a.path == b.path; }),
                  m_found.end());
    return std::move(m_found);
}

} // namespace

Result<std::vector<Entry>> entries_of_worktree(git_repository* repository, git_index* index,
                                               const std::string& root, const rules::Policy& policy,
                                               std::vector<std::string>& skipped) {
    Folder opened(::opendir(root.c_str()));
    if (opened == nullptr) {
        return board::failure(unreadable(root, system_reason(errno)));
    }
    Walk walk(repository, index, policy, skipped);
    if (auto error = walk.folder(std::move(opened), "", 0)) {
        return board::failure(*std::move(error));
    }
    return std::move(walk).take();
}

} // namespace history
