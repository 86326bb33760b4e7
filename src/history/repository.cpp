#include "history/repository.hpp"

#include "history/entries.hpp"
#include "history/worktree.hpp"

#include <fmt/format.h>

#include <filesystem>

namespace history {

namespace {

std::string without_final_slash(std::string path) {
    while (path.size() > 1 && path.back() == '/') {
        path.pop_back();
    }
    return path;
}

/// Where the repository is that may not be opened, for the cure.
std::string found_at(const std::string& folder) {
    Buffer found;
    if (git_repository_discover(&found.buf, folder.c_str(), 0, nullptr) != 0) {
        return folder;
    }
    std::string path = without_final_slash(found.buf.ptr);
    if (path.ends_with("/.git")) {
        path.resize(path.size() - 5);
    }
    return path;
}

Error cannot_open(const std::string& folder, int code) {
    const std::string reason = last_message();
    // libgit2 1.5 asks the configuration whom to trust, and fails on the question when nothing is configured.
    if (code == GIT_EOWNER || reason.find("safe.directory") != std::string::npos) {
        return refused(fmt::format("the repository at {} belongs to another user", found_at(folder)),
                       fmt::format("git config --global --add safe.directory {}", found_at(folder)));
    }
    if (code == GIT_ENOTFOUND) {
        return refused(fmt::format("no git repository at {} or above", folder),
                       "run it inside a clone, or without --staged, --commit and --against");
    }
    if (reason.find("partialclone") != std::string::npos) {
        return refused("this clone is partial (made with --filter), which the git library cannot read",
                       "clone again without --filter (in CI: no `filter:` on the checkout)");
    }
    if (reason.find("unsupported extension") != std::string::npos) {
        return refused(fmt::format("the repository uses a feature the git library does not know: {}", reason),
                       "clone it again without that feature");
    }
    if (reason.find("GIT_WORK_TREE") != std::string::npos ||
        reason.find("GIT_COMMON_DIR") != std::string::npos) {
        return refused(
            fmt::format("the git library cannot follow an environment variable that is set: {}", reason),
            "unset GIT_WORK_TREE and GIT_COMMON_DIR and run it inside the worktree");
    }
    return refused(fmt::format("cannot open the repository at {}: {}", folder, reason));
}

/// GIT_DIR speaks of the repository the working directory is in, and of no other.
bool is_working_directory(const std::string& folder) {
    std::error_code ignored;
    return std::filesystem::equivalent(folder, std::filesystem::current_path(ignored), ignored);
}

/// The commit `revision` names, through tags. The code is libgit2's.
int find_commit(git_repository* repository, const std::string& revision, CommitHandle& commit) {
    ObjectHandle object;
    if (const int code = git_revparse_single(into(object), repository, revision.c_str()); code != 0) {
        return code;
    }
    ObjectHandle peeled;
    if (const int code = git_object_peel(into(peeled), object.get(), GIT_OBJECT_COMMIT); code != 0) {
        return code;
    }
    return git_commit_lookup(into(commit), repository, git_object_id(peeled.get()));
}

Error unknown_revision(git_repository* repository, const std::string& revision, int code) {
    if (code == GIT_EAMBIGUOUS) {
        return refused(fmt::format("the revision '{}' fits more than one object", revision),
                       "give more digits of its id");
    }
    if (code == GIT_EPEEL || code == GIT_EINVALIDSPEC) {
        return refused(fmt::format("'{}' does not name a commit", revision));
    }
    if (code != GIT_ENOTFOUND) {
        return missing(repository, fmt::format("the revision '{}'", revision), code);
    }
    if (git_repository_head_unborn(repository) == 1) {
        return refused(fmt::format("cannot find the revision '{}': there is no commit yet", revision),
                       "commit first, or check without naming a revision");
    }
    if (is_shallow(repository)) {
        return refused(
            fmt::format("cannot find the revision '{}': this clone is shallow, its history is cut off",
                        revision),
            deepen_cure());
    }
    return refused(fmt::format("cannot find the revision '{0}', nor 'origin/{0}'", revision),
                   "git fetch origin, or mend the name");
}

Error conflict_at(std::string_view path) {
    return refused(fmt::format("the index holds a conflict: {}", path),
                   "finish the merge, then `git add` the file");
}

/// The entry of a commit or the index at a path.
Result<std::optional<Entry>> entry_at(git_repository* repository, const State& state,
                                      const std::string& path) {
    if (state.kind == State::Kind::index) {
        auto index = open_index(repository);
        if (!index) {
            return board::failure(index.error());
        }
        const git_index_entry* entry = git_index_get_bypath(index->get(), path.c_str(), 0);
        const auto kind = entry == nullptr ? std::nullopt : kind_of_mode(entry->mode);
        return kind ? std::optional(Entry{path, *kind, entry->id}) : std::nullopt;
    }
    auto tree = tree_of(repository, state);
    if (!tree) {
        return board::failure(tree.error());
    }
    TreeEntryHandle entry;
    const int code = !*tree ? GIT_ENOTFOUND : git_tree_entry_bypath(into(entry), tree->get(), path.c_str());
    if (code == GIT_ENOTFOUND) {
        return std::optional<Entry>{};
    }
    if (code != 0) {
        return board::failure(missing(repository, fmt::format("{} in {}", path, state.name), code));
    }
    const auto kind = kind_of_mode(git_tree_entry_filemode(entry.get()));
    return kind ? std::optional(Entry{path, *kind, *git_tree_entry_id(entry.get())}) : std::nullopt;
}

std::optional<std::string> first_conflict(git_index* index) {
    for (std::size_t i = 0; i < git_index_entrycount(index); ++i) {
        const git_index_entry* entry = git_index_get_byindex(index, i);
        if (git_index_entry_stage(entry) != 0) {
            return entry->path;
        }
    }
    return std::nullopt;
}

} // namespace

Repository::Repository(std::unique_ptr<Handles> handles) : m_handles(std::move(handles)) {}
Repository::~Repository() = default;
Repository::Repository(Repository&&) noexcept = default;
Repository& Repository::operator=(Repository&&) noexcept = default;

Result<Repository> Repository::open(const std::string& folder, Trust trust) {
    auto handles = std::make_unique<Handles>();
    if (!handles->library.started()) {
        return board::failure(refused(fmt::format("the git library does not start: {}", last_message())));
    }
    git_libgit2_opts(GIT_OPT_SET_OWNER_VALIDATION, trust == Trust::owner_only ? 1 : 0);
    const char* start = is_working_directory(folder) ? nullptr : folder.c_str();
    const int code =
        git_repository_open_ext(into(handles->repository), start, GIT_REPOSITORY_OPEN_FROM_ENV, nullptr);
    if (code != 0) {
        return board::failure(cannot_open(folder, code));
    }
    if (const char* root = git_repository_workdir(handles->repository.get()); root != nullptr) {
        handles->root = without_final_slash(root);
    }
    return Repository(std::move(handles));
}

const std::string& Repository::root() const {
    return m_handles->root;
}

State Repository::worktree() const {
    return {State::Kind::worktree, "", "the worktree"};
}

Result<State> Repository::commit(std::string_view revision) const {
    git_repository* repository = m_handles->repository.get();
    std::string name(revision);
    CommitHandle commit;
    int code = name.empty() || name.find('\0') != std::string::npos ? GIT_EINVALIDSPEC
                                                                    : find_commit(repository, name, commit);
    if (code == GIT_ENOTFOUND) {
        CommitHandle remote;
        if (find_commit(repository, "origin/" + name, remote) == 0) {
            commit = std::move(remote);
            name = "origin/" + name;
            code = 0;
        }
    }
    if (code != 0) {
        return board::failure(unknown_revision(repository, name, code));
    }
    return State{State::Kind::commit, hex(*git_commit_id(commit.get())), name};
}

Result<State> Repository::head() const {
    if (git_repository_head_unborn(m_handles->repository.get()) == 1) {
        return State{State::Kind::nothing, "", "nothing (there is no commit yet)"};
    }
    return commit("HEAD");
}

Result<State> Repository::index() const {
    auto index = open_index(m_handles->repository.get());
    if (!index) {
        return board::failure(index.error());
    }
    if (const auto path = first_conflict(index->get())) {
        return board::failure(conflict_at(*path));
    }
    return State{State::Kind::index, "", "the index"};
}

Result<std::optional<State>> Repository::parent(const State& state) const {
    git_repository* repository = m_handles->repository.get();
    if (state.kind != State::Kind::commit) {
        return std::optional<State>{};
    }
    auto commit = lookup_commit(repository, state);
    if (!commit) {
        return board::failure(commit.error());
    }
    if (git_commit_parentcount(commit->get()) == 0) {
        return std::optional<State>{};
    }
    CommitHandle parent;
    if (const int code = git_commit_parent(into(parent), commit->get(), 0); code != 0) {
        Error error = missing(repository, fmt::format("the parent of {}", state.name), code);
        if (is_shallow(repository)) {
            error.cure = "git fetch --deepen=1; in CI: fetch-depth: 2 (GitHub), GIT_DEPTH: 2 (GitLab)";
        }
        return board::failure(std::move(error));
    }
    const std::string id = hex(*git_commit_id(parent.get()));
    const bool is_revision = state.name.find(' ') == std::string::npos;
    return std::optional(State{State::Kind::commit, id, is_revision ? state.name + "^" : brief(id)});
}

Result<std::string> Repository::bytes(const State& state, const FileState& file) const {
    if (!file.id.empty()) {
        git_oid id;
        if (git_oid_fromstr(&id, file.id.c_str()) != 0) {
            return board::failure(refused(fmt::format("'{}' is no object's id", file.id)));
        }
        return read_blob(m_handles->repository.get(), id, file.path);
    }
    auto bytes = bytes_at(state, file.path);
    if (!bytes) {
        return board::failure(bytes.error());
    }
    if (!bytes->has_value()) {
        return board::failure(refused(fmt::format("there is no file {} in {}", file.path, state.name)));
    }
    return **std::move(bytes);
}

Result<std::optional<std::string>> Repository::bytes_at(const State& state, std::string_view path) const {
    git_repository* repository = m_handles->repository.get();
    if (state.kind == State::Kind::worktree) {
        return read_beneath(root(), path);
    }
    auto entry = entry_at(repository, state, std::string(path));
    if (!entry) {
        return board::failure(entry.error());
    }
    if (!entry->has_value()) {
        return std::optional<std::string>{};
    }
    const Entry& found = **entry;
    if (found.kind != Entry::Kind::file) {
        return board::failure(refused(fmt::format("{} is no regular file in {}", path, state.name)));
    }
    auto bytes = read_blob(repository, *found.id, path);
    if (!bytes) {
        return board::failure(bytes.error());
    }
    return std::optional(std::move(bytes).value());
}

} // namespace history
