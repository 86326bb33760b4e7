#pragma once
// What stands in a state: one list for trees, the index and the worktree, and what differs between two of
// them.

#include "history/opened.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace history {

struct Entry {
    enum class Kind : std::uint8_t {
        file,
        link,
        module,  ///< a submodule, or another repository inside the worktree
        special, ///< worktree only: pipe, device, socket
    };
    std::string path;
    Kind kind = Kind::file;
    std::optional<git_oid> id; ///< nothing: bytes of the worktree that are not known to be those of an object
    bool on_disk = false;      ///< to be read from the worktree, not from the objects
    std::uint64_t size = 0;    ///< in bytes; only on disk
};

struct Difference {
    std::optional<Entry> before;
    std::optional<Entry> after;
};

/// Bounds on hostile trees: a few small objects can name each other a billion times over.
inline constexpr std::size_t max_depth = 256;
inline constexpr std::size_t max_path_bytes = 4096;
inline constexpr std::size_t max_listing_bytes = 256U
                                                 << 20U; ///< paths, 64 bytes each on top: 2,500,000 files

/// Wanted entries of a mode libgit2 gives; nothing for folders.
[[nodiscard]] std::optional<Entry::Kind> kind_of_mode(unsigned mode);

/// What differs between two trees (nullptr: no files), by path; subtrees of one id are not opened.
[[nodiscard]] Result<std::vector<Difference>> differences(git_repository* repository, const git_tree* before,
                                                          const git_tree* after, const rules::Policy& policy);
/// What differs between a tree and the index, by path; entries only announced (intent to add) are left out.
[[nodiscard]] Result<std::vector<Difference>> differences(git_repository* repository, const git_tree* before,
                                                          git_index* after, const rules::Policy& policy);
/// Wanted entries of a tree, by path.
[[nodiscard]] Result<std::vector<Entry>> entries_of_tree(git_repository* repository, const git_tree* tree,
                                                         const rules::Policy& policy);
/// Wanted entries of the index, by path; those only announced (intent to add) are left out.
[[nodiscard]] std::vector<Entry> entries_of_index(git_index* index, const rules::Policy& policy);
/// Wanted entries of the worktree, by path: tracked ones, and others that are not ignored. Follows no link.
[[nodiscard]] Result<std::vector<Entry>> entries_of_worktree(git_repository* repository, git_index* index,
                                                             const std::string& root,
                                                             const rules::Policy& policy,
                                                             std::vector<std::string>& skipped);

/// Counts what a listing holds; an Error as soon as a bound is passed.
class Bounds {
  public:
    [[nodiscard]] std::optional<Error> count(const std::string& path, std::size_t depth);

  private:
    std::size_t m_bytes = 0;
};
/// "" + "a", "a" + "b" = "a/b"
[[nodiscard]] std::string joined(const std::string& folder, std::string_view name);

} // namespace history
