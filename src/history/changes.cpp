#include "history/entries.hpp"
#include "history/worktree.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace history {

namespace {

bool only_line_ends_differ(std::string_view a, std::string_view b) {
    std::size_t i = 0;
    std::size_t j = 0;
    const auto skip = [](std::string_view text, std::size_t at) {
        return at + 1 < text.size() && text[at] == '\r' && text[at + 1] == '\n' ? at + 1 : at;
    };
    while (i < a.size() && j < b.size()) {
        i = skip(a, i);
        j = skip(b, j);
        if (a[i++] != b[j++]) {
            return false;
        }
    }
    return i == a.size() && j == b.size();
}

/// Pointers of git-lfs: short, and they begin alike (its specification, version 1).
bool is_pointer(std::string_view bytes) {
    return bytes.starts_with("version https://git-lfs.github.com/spec/");
}
constexpr std::size_t shortest_pointer = 100;
constexpr std::size_t longest_pointer = 1023;

std::string_view name_of(Entry::Kind kind) {
    switch (kind) {
    case Entry::Kind::file:
        return "a file";
    case Entry::Kind::link:
        return "a symbolic link";
    case Entry::Kind::module:
        return "a repository of its own";
    case Entry::Kind::special:
        return "no regular file";
    }
    return "";
}

/// Lists states and reads what is needed to tell them apart.
class Lister {
  public:
    Lister(git_repository* repository, const std::string& root, const rules::Policy& policy,
           std::vector<std::string>& skipped)
        : m_repository(repository), m_root(root), m_policy(policy), m_skipped(skipped) {
        git_repository_odb(into(m_objects), repository);
    }

    Result<std::vector<Entry>> entries(const State& state);
    Result<std::vector<Difference>> between(const State& before, const State& after);
    /// As Repository::files has it: nothing when it is left out.
    std::optional<FileState> settle(const Entry& entry);
    std::optional<FileChange> settle(const Difference& difference);

  private:
    Result<std::vector<Difference>> merge(std::vector<Entry> before, std::vector<Entry> after);
    Result<bool> same(const Entry& before, const Entry& after);
    Result<std::string> bytes(const Entry& entry);
    bool points_elsewhere(const Entry& entry);
    FileState file_state(const Entry& entry) const;
    void tell(const Entry& entry, std::string_view why);

    git_repository* m_repository;
    const std::string& m_root;
    const rules::Policy& m_policy;
    std::vector<std::string>& m_skipped;
    OdbHandle m_objects;
};

Result<std::vector<Entry>> Lister::entries(const State& state) {
    if (state.kind == State::Kind::commit || state.kind == State::Kind::nothing) {
        auto tree = tree_of(m_repository, state);
        return tree ? entries_of_tree(m_repository, tree->get(), m_policy)
                    : Result<std::vector<Entry>>(board::failure(tree.error()));
    }
    if (state.kind == State::Kind::worktree && m_root.empty()) {
        return board::failure(refused("a bare repository has no worktree", "name a commit: --commit REV"));
    }
    auto index = open_index(m_repository);
    if (!index) {
        return board::failure(index.error());
    }
    return state.kind == State::Kind::index
               ? entries_of_index(index->get(), m_policy)
               : entries_of_worktree(m_repository, index->get(), m_root, m_policy, m_skipped);
}

Result<std::vector<Difference>> Lister::between(const State& before, const State& after) {
    const auto in_trees = [](const State& state) {
        return state.kind == State::Kind::commit || state.kind == State::Kind::nothing;
    };
    if (in_trees(before) && in_trees(after)) {
        auto tree_before = tree_of(m_repository, before);
        auto tree_after = tree_of(m_repository, after);
        if (!tree_before || !tree_after) {
            return board::failure(!tree_before ? tree_before.error() : tree_after.error());
        }
        return differences(m_repository, tree_before->get(), tree_after->get(), m_policy);
    }
    if (in_trees(before) && after.kind == State::Kind::index) {
        auto tree = tree_of(m_repository, before);
        auto index = open_index(m_repository);
        if (!tree || !index) {
            return board::failure(!tree ? tree.error() : index.error());
        }
        return differences(m_repository, tree->get(), index->get(), m_policy);
    }
    auto entries_before = entries(before);
    auto entries_after = entries(after);
    if (!entries_before || !entries_after) {
        return board::failure(!entries_before ? entries_before.error() : entries_after.error());
    }
    return merge(std::move(entries_before).value(), std::move(entries_after).value());
}

Result<std::string> Lister::bytes(const Entry& entry) {
    if (!entry.on_disk) {
        return read_blob(m_repository, *entry.id, entry.path);
    }
    auto read = read_beneath(m_root, entry.path);
    if (!read) {
        return board::failure(read.error());
    }
    return read->value_or(std::string());
}

Result<bool> Lister::same(const Entry& before, const Entry& after) {
    if (before.kind != after.kind) {
        return false;
    }
    if (before.id && after.id) {
        return git_oid_equal(&*before.id, &*after.id) != 0;
    }
    if (before.kind != Entry::Kind::file) {
        return true;
    }
    auto bytes_before = bytes(before);
    auto bytes_after = bytes(after);
    if (!bytes_before || !bytes_after) {
        return board::failure(!bytes_before ? bytes_before.error() : bytes_after.error());
    }
    return only_line_ends_differ(*bytes_before, *bytes_after);
}

Result<std::vector<Difference>> Lister::merge(std::vector<Entry> before, std::vector<Entry> after) {
    std::vector<Difference> found;
    for (std::size_t i = 0, j = 0; i < before.size() || j < after.size();) {
        const int order = i == before.size()  ? 1
                          : j == after.size() ? -1
                                              : before[i].path.compare(after[j].path);
        Difference difference;
        if (order == 0) {
            auto equal = same(before[i], after[j]);
            if (!equal) {
                return board::failure(equal.error());
            }
            if (equal.value()) {
                ++i;
                ++j;
                continue;
            }
        }
        if (order <= 0) {
            difference.before = std::move(before[i++]);
        }
        if (order >= 0) {
            difference.after = std::move(after[j++]);
        }
        found.push_back(std::move(difference));
    }
    return found;
}

bool Lister::points_elsewhere(const Entry& entry) {
    std::size_t size = static_cast<std::size_t>(entry.size);
    git_object_t type = GIT_OBJECT_INVALID;
    if (entry.kind != Entry::Kind::file ||
        (!entry.on_disk && git_odb_read_header(&size, &type, m_objects.get(), &*entry.id) != 0) ||
        size < shortest_pointer || size > longest_pointer) {
        return false;
    }
    const auto read = bytes(entry);
    return read.ok() && is_pointer(*read);
}

void Lister::tell(const Entry& entry, std::string_view why) {
    m_skipped.push_back(fmt::format("{}: {}; left out", entry.path, why));
}

FileState Lister::file_state(const Entry& entry) const {
    return {entry.path, entry.on_disk ? std::string() : hex(*entry.id)};
}

std::optional<FileState> Lister::settle(const Entry& entry) {
    if (entry.kind != Entry::Kind::file) {
        tell(entry, name_of(entry.kind));
        return std::nullopt;
    }
    if (points_elsewhere(entry)) {
        tell(entry, "a pointer to large file storage, its bytes are not in git");
        return std::nullopt;
    }
    return file_state(entry);
}

std::optional<FileChange> Lister::settle(const Difference& difference) {
    // Bytes that moved into or out of large file storage cannot be compared: neither side counts.
    for (const auto* side : {&difference.before, &difference.after}) {
        if (side->has_value() && points_elsewhere(**side)) {
            tell(**side, "a pointer to large file storage, its bytes are not in git");
            return std::nullopt;
        }
    }
    FileChange change;
    if (difference.before && difference.before->kind == Entry::Kind::file) {
        change.before = file_state(*difference.before);
    }
    if (difference.after && difference.after->kind == Entry::Kind::file) {
        change.after = file_state(*difference.after);
    } else if (difference.after) {
        tell(*difference.after, name_of(difference.after->kind));
    }
    return change.before || change.after ? std::optional(std::move(change)) : std::nullopt;
}

} // namespace

Result<std::vector<FileState>> Repository::files(const State& state, const rules::Policy& policy,
                                                 std::vector<std::string>& skipped) const {
    Lister lister(m_handles->repository.get(), root(), policy, skipped);
    auto entries = lister.entries(state);
    if (!entries) {
        return board::failure(entries.error());
    }
    std::vector<FileState> files;
    files.reserve(entries->size());
    for (const Entry& entry : *entries) {
        if (auto file = lister.settle(entry)) {
            files.push_back(*std::move(file));
        }
    }
    return files;
}

Result<std::vector<FileChange>> Repository::changes(const State& before, const State& after,
                                                    const rules::Policy& policy,
                                                    std::vector<std::string>& skipped) const {
    Lister lister(m_handles->repository.get(), root(), policy, skipped);
    auto found = lister.between(before, after);
    if (!found) {
        return board::failure(found.error());
    }
    std::vector<FileChange> changes;
    for (const Difference& difference : *found) {
        if (auto change = lister.settle(difference)) {
            changes.push_back(*std::move(change));
        }
    }
    return changes;
}

} // namespace history
