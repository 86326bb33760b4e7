#pragma once
// The git repository: states, the files in them, and what differs, read from the object database and the
// index.

#include "collection/error.hpp"
#include "rules/policy.hpp"

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace history {

using collection::Error;
using collection::Result;

/// A file in one state of the repository.
struct FileState {
    std::string path; ///< relative to the root, with '/'
    std::string id;   ///< object id in hex; empty for a worktree file
};

/// Which bytes: a commit's, the index's, the worktree's, or none at all (before the first commit).
struct State {
    enum class Kind : std::uint8_t { commit, index, worktree, nothing } kind = Kind::worktree;
    std::string commit; ///< id in hex; commit only
    std::string name;   ///< as people know it: "HEAD~1", "the index", "the worktree"
};

/// A regular file or a folder, in a folder of a commit.
struct FolderItem {
    std::string name;
    std::string id; ///< object id in hex: that of a folder changes with anything beneath it
    bool is_folder = false;
};

struct FileChange {
    std::optional<FileState> before; ///< empty: added
    std::optional<FileState> after;  ///< empty: removed
};

/// Environment variables the choice of a base depends on (base_variables); app fills it in, tests too.
using Environment = std::map<std::string, std::string, std::less<>>;
/// What choose_base asks for. GITHUB_EVENT_BEFORE is no variable of the runner: app takes `before` from the
/// event's file (GITHUB_EVENT_PATH) unless the workflow has set it.
[[nodiscard]] std::span<const std::string_view> base_variables();

enum class Trust : std::uint8_t { owner_only, anyone };

/// Not for several threads at once: open one for each, or read git in one thread.
class Repository {
  public:
    /// Searches upward from `folder`; GIT_DIR counts when `folder` is the working directory, GIT_INDEX_FILE
    /// always. Not a repository is an Error with the cure.
    [[nodiscard]] static Result<Repository> open(const std::string& folder, Trust trust = Trust::owner_only);
    ~Repository();
    Repository(Repository&&) noexcept;
    Repository& operator=(Repository&&) noexcept;

    /// Worktree root, absolute, without a final '/'; empty when bare.
    [[nodiscard]] const std::string& root() const;
    /// A revision as given, then as origin/<name>. Shallow clones and missing objects are told apart in the
    /// Error.
    [[nodiscard]] Result<State> commit(std::string_view revision) const;
    /// HEAD's commit; State::Kind::nothing when there is no commit yet.
    [[nodiscard]] Result<State> head() const;
    /// A conflict in the index is an Error.
    [[nodiscard]] Result<State> index() const;
    [[nodiscard]] State worktree() const;
    /// `auto`: what CI says, else the upstream's merge base, else HEAD's parent; the name says what was
    /// chosen and why.
    [[nodiscard]] Result<State> choose_base(const Environment& environment) const;
    /// Where two commits parted; among several the latest, then by id, and the name says so.
    [[nodiscard]] Result<State> merge_base(const State& one, const State& other) const;
    /// What a pushed commit is compared with: the commit `before` that the branch held, else (new branch, all
    /// zeros, or gone) where it parted from the main branch of `remote`, empty in the receiving repository
    /// itself, else nothing.
    [[nodiscard]] Result<State> base_of_push(const State& pushed, std::string_view before,
                                             const std::string& remote) const;
    /// Where git looks for hooks, absolute. An Error when that is outside the repository.
    [[nodiscard]] Result<std::string> hooks_folder() const;
    /// First parent of a commit; nothing for a first commit.
    [[nodiscard]] Result<std::optional<State>> parent(const State& commit) const;

    /// Regular files the policy wants, sorted by path. Links, submodules and pointers to large storage are
    /// left out and told in `skipped`.
    [[nodiscard]] Result<std::vector<FileState>> files(const State& state, const rules::Policy& policy,
                                                       std::vector<std::string>& skipped) const;
    /// What differs between two states, wanted files only, sorted by path; equal subtrees are not opened. No
    /// rename detection: findings follow puzzles.
    [[nodiscard]] Result<std::vector<FileChange>> changes(const State& before, const State& after,
                                                          const rules::Policy& policy,
                                                          std::vector<std::string>& skipped) const;
    /// The id of a commit's root folder; an Error for what is no commit.
    [[nodiscard]] Result<std::string> root_folder(const State& commit) const;
    /// What stands right in the folder of that id, links and submodules left out. `path` is for the Error.
    [[nodiscard]] Result<std::vector<FolderItem>> folder(const std::string& id,
                                                         const std::string& path) const;
    /// A file's bytes in that state. Worktree files are read without following links out of the root.
    [[nodiscard]] Result<std::string> bytes(const State& state, const FileState& file) const;
    /// A file by path, nothing when the state has none (the configuration of a commit).
    [[nodiscard]] Result<std::optional<std::string>> bytes_at(const State& state,
                                                              std::string_view path) const;

  private:
    struct Handles;
    explicit Repository(std::unique_ptr<Handles> handles);
    std::unique_ptr<Handles> m_handles;
};

} // namespace history
