#pragma once
// An open repository, and the errors it is refused with.

#include "history/handles.hpp"
#include "history/repository.hpp"

#include <string>
#include <string_view>

namespace history {

struct Repository::Handles {
    Library library; // first in, last out
    RepositoryHandle repository;
    std::string root; ///< worktree, without a final '/'; empty when bare
};

/// The commit's history is cut off. libgit2 looks for the mark in the wrong folder of a linked worktree.
[[nodiscard]] bool is_shallow(git_repository* repository);

/// What libgit2 said last, for this thread.
[[nodiscard]] std::string last_message();
[[nodiscard]] Error refused(std::string message, std::string cure = {});
/// An object that ought to be there is not: says why (shallow, partial clone, damage) and what helps.
[[nodiscard]] Error missing(git_repository* repository, std::string_view what, int code);
/// What brings the rest of a shallow clone's history.
[[nodiscard]] std::string deepen_cure();

[[nodiscard]] Result<CommitHandle> lookup_commit(git_repository* repository, const State& state);
/// The tree of a commit; nullptr for State::Kind::nothing.
[[nodiscard]] Result<TreeHandle> tree_of(git_repository* repository, const State& state);
/// The index as it is on disk (GIT_INDEX_FILE counts).
[[nodiscard]] Result<IndexHandle> open_index(git_repository* repository);
[[nodiscard]] Result<std::string> read_blob(git_repository* repository, const git_oid& id,
                                            std::string_view path);

[[nodiscard]] std::string hex(const git_oid& id);
/// The first seven digits.
[[nodiscard]] std::string brief(std::string_view id);

} // namespace history
