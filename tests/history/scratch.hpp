#pragma once
// Throw-away repositories, made through libgit2 alone and blind to the configuration of whoever runs the
// tests.

#include "history/handles.hpp"
#include "history/repository.hpp"
#include "holds.hpp"

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace scratch {

/// Every file that can be read.
inline const rules::Policy everything;

/// A folder that goes away.
class Folder {
  public:
    Folder();
    ~Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    [[nodiscard]] const std::filesystem::path& path() const { return m_path; }

  private:
    std::filesystem::path m_path;
};

/// An environment variable for as long as it lives.
class Variable {
  public:
    Variable(std::string name, const std::string& value);
    ~Variable();
    Variable(const Variable&) = delete;
    Variable& operator=(const Variable&) = delete;

  private:
    std::string m_name;
};

/// The user's configuration, empty otherwise, for as long as it lives.
class UserConfig {
  public:
    explicit UserConfig(const std::string& text);
    ~UserConfig();
    UserConfig(const UserConfig&) = delete;
    UserConfig& operator=(const UserConfig&) = delete;
};

struct Item {
    std::string bytes; ///< of a link: its target; of a module: a commit's id in hex
    unsigned mode = 0100644;
};
using Files = std::map<std::string, Item>;

inline Item link(std::string target) {
    return {std::move(target), 0120000};
}
inline Item module() {
    return {std::string(40, '1'), 0160000};
}

enum class Shape : std::uint8_t { usual, bare };

class Repository {
  public:
    explicit Repository(Shape shape = Shape::usual);

    /// A commit of exactly these files; it becomes the tip of `ref`. Time goes up by a minute a commit.
    std::string commit(const Files& files, const std::vector<std::string>& parents, const char* ref = "HEAD");
    /// The index holds exactly these files.
    void stage(const Files& files) const;
    /// One entry more in the index, as it is.
    void stage(git_index_entry entry, const std::string& bytes) const;
    void write(const std::string& path, const std::string& bytes) const;
    /// Commits the files, puts them into the index and into the worktree; HEAD's old tip is the parent.
    std::string check_in(const Files& files);
    /// The worktree's files are known to the index as unchanged, as after a checkout.
    void refresh_index(const Files& files) const;
    void set_config(const char* name, const char* value) const;
    void branch(const std::string& ref, const std::string& commit) const;
    /// Takes an object away, as if it lay beyond the border of a shallow clone.
    void forget(const std::string& id) const;
    /// Marks the commits as the border.
    void make_shallow(const std::vector<std::string>& border) const;

    [[nodiscard]] std::string root() const { return m_folder.path() / "repo"; }
    [[nodiscard]] std::filesystem::path git_folder() const { return git_repository_path(m_repository.get()); }
    [[nodiscard]] git_repository* handle() const { return m_repository.get(); }
    [[nodiscard]] history::Repository open(history::Trust trust = history::Trust::owner_only) const;

  private:
    git_oid store(const Item& item) const;

    Folder m_folder;
    history::RepositoryHandle m_repository;
    int m_commits = 0;
};

/// "+a b ~c -d": what was added, changed and removed, in order.
[[nodiscard]] std::string told(const std::vector<history::FileChange>& changes);

} // namespace scratch
