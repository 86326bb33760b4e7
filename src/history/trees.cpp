#include "history/entries.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace history {

namespace {

/// A walk down two trees at once that stops where the ids are equal.
class Descent {
  public:
    Descent(git_repository* repository, const rules::Policy& policy)
        : m_repository(repository), m_policy(policy) {}

    std::optional<Error> walk(const git_tree* before, const git_tree* after, const std::string& folder,
                              std::size_t depth);
    std::vector<Difference> take() && { return std::move(m_found); }

  private:
    std::optional<Error> meet(const git_tree_entry* before, const git_tree_entry* after,
                              const std::string& folder, std::size_t depth);
    std::optional<Error> open(const git_tree_entry* entry, const std::string& path, TreeHandle& tree);
    std::optional<Entry> entry_at(const git_tree_entry* entry, const std::string& path) const;

    git_repository* m_repository;
    const rules::Policy& m_policy;
    std::vector<Difference> m_found;
    Bounds m_bounds;
};

bool is_folder(const git_tree_entry* entry) {
    return entry != nullptr && git_tree_entry_type(entry) == GIT_OBJECT_TREE;
}

bool same(const git_tree_entry* a, const git_tree_entry* b) {
    return git_oid_equal(git_tree_entry_id(a), git_tree_entry_id(b)) != 0 &&
           (git_tree_entry_filemode(a) & 0170000) == (git_tree_entry_filemode(b) & 0170000);
}

/// Names git itself refuses; they could lead out of the root.
bool is_sane(std::string_view name) {
    return !name.empty() && name != "." && name != ".." && name.find('/') == std::string_view::npos;
}

Error insane(const std::string& folder, std::string_view name) {
    return refused(
        fmt::format("the folder '{}' holds an entry named '{}', which git itself refuses", folder, name));
}

std::optional<Error> Descent::open(const git_tree_entry* entry, const std::string& path, TreeHandle& tree) {
    if (!is_folder(entry)) {
        return std::nullopt;
    }
    const int code = git_tree_lookup(into(tree), m_repository, git_tree_entry_id(entry));
    return code == 0 ? std::nullopt
                     : std::optional(missing(m_repository, fmt::format("the folder {}", path), code));
}

std::optional<Entry> Descent::entry_at(const git_tree_entry* entry, const std::string& path) const {
    if (entry == nullptr) {
        return std::nullopt;
    }
    const auto kind = kind_of_mode(git_tree_entry_filemode(entry));
    if (!kind || !m_policy.wants(path)) {
        return std::nullopt;
    }
    return Entry{path, *kind, *git_tree_entry_id(entry)};
}

std::optional<Error> Descent::meet(const git_tree_entry* before, const git_tree_entry* after,
                                   const std::string& folder, std::size_t depth) {
    const char* name = git_tree_entry_name(before != nullptr ? before : after);
    const std::string path = joined(folder, name);
    if (!is_sane(name)) {
        return insane(folder, name);
    }
    if (auto error = m_bounds.count(path, depth)) {
        return error;
    }
    Difference difference{entry_at(before, path), entry_at(after, path)};
    if (difference.before || difference.after) {
        m_found.push_back(std::move(difference));
    }
    if (!is_folder(before) && !is_folder(after)) {
        return std::nullopt;
    }
    TreeHandle tree_before;
    TreeHandle tree_after;
    if (auto error = open(before, path, tree_before)) {
        return error;
    }
    if (auto error = open(after, path, tree_after)) {
        return error;
    }
    return walk(tree_before.get(), tree_after.get(), path, depth + 1);
}

std::optional<Error> Descent::walk(const git_tree* before, const git_tree* after, const std::string& folder,
                                   std::size_t depth) {
    const std::size_t count_before = before == nullptr ? 0 : git_tree_entrycount(before);
    const std::size_t count_after = after == nullptr ? 0 : git_tree_entrycount(after);
    for (std::size_t i = 0, j = 0; i < count_before || j < count_after;) {
        const git_tree_entry* a = i < count_before ? git_tree_entry_byindex(before, i) : nullptr;
        const git_tree_entry* b = j < count_after ? git_tree_entry_byindex(after, j) : nullptr;
        // A folder sorts as "name/": a file that became a folder does not meet it, which is what it should
        // be.
        const int order = a == nullptr ? 1 : b == nullptr ? -1 : git_tree_entry_cmp(a, b);
        i += order <= 0 ? 1 : 0;
        j += order >= 0 ? 1 : 0;
        if (order == 0 && same(a, b)) {
            continue;
        }
        if (auto error = meet(order <= 0 ? a : nullptr, order >= 0 ? b : nullptr, folder, depth)) {
            return error;
        }
    }
    return std::nullopt;
}

const std::string& path_of(const Difference& difference) {
    return difference.before ? difference.before->path : difference.after->path;
}

void put_in_order(std::vector<Difference>& found) {
    std::stable_sort(found.begin(), found.end(),
                     [](const Difference& a, const Difference& b) { return path_of(a) < path_of(b); });
}

bool is_announced(const git_index_entry& entry) {
    return (entry.flags_extended & GIT_INDEX_ENTRY_INTENT_TO_ADD) != 0;
}

/// A walk down a tree beside the index, whose paths come in the same order. What is the same in both, and
/// that is nearly everything, is passed by without a copy.
class IndexDescent {
  public:
    IndexDescent(git_repository* repository, git_index* index, const rules::Policy& policy)
        : m_repository(repository), m_index(index), m_policy(policy), m_count(git_index_entrycount(index)) {}

    std::optional<Error> walk(const git_tree* tree, std::size_t depth);
    /// What is left of the index was added.
    std::vector<Difference> take() &&;

  private:
    void meet(const git_tree_entry* entry);
    std::optional<Entry> entry_of(const git_index_entry& entry) const;
    void add(std::optional<Entry> before, std::optional<Entry> after);
    const git_index_entry* next() const {
        return m_next < m_count ? git_index_get_byindex(m_index, m_next) : nullptr;
    }

    git_repository* m_repository;
    git_index* m_index;
    const rules::Policy& m_policy;
    std::size_t m_count;
    std::size_t m_next = 0;
    std::string m_path;
    Bounds m_bounds;
    std::vector<Difference> m_found;
};

std::optional<Entry> IndexDescent::entry_of(const git_index_entry& entry) const {
    const auto kind = kind_of_mode(entry.mode);
    return kind && !is_announced(entry) && m_policy.wants(entry.path)
               ? std::optional(Entry{entry.path, *kind, entry.id})
               : std::nullopt;
}

void IndexDescent::add(std::optional<Entry> before, std::optional<Entry> after) {
    if (before || after) {
        m_found.push_back({std::move(before), std::move(after)});
    }
}

void IndexDescent::meet(const git_tree_entry* entry) {
    const git_index_entry* beside = next();
    for (; beside != nullptr && m_path.compare(beside->path) > 0; beside = next()) {
        add(std::nullopt, entry_of(*beside));
        ++m_next;
    }
    const bool both = beside != nullptr && m_path == beside->path;
    m_next += both ? 1 : 0;
    const unsigned mode = git_tree_entry_filemode(entry);
    if (both && !is_announced(*beside) && git_oid_equal(&beside->id, git_tree_entry_id(entry)) != 0 &&
        kind_of_mode(beside->mode) == kind_of_mode(mode)) {
        return;
    }
    const auto kind = kind_of_mode(mode);
    add(kind && m_policy.wants(m_path) ? std::optional(Entry{m_path, *kind, *git_tree_entry_id(entry)})
                                       : std::nullopt,
        both ? entry_of(*beside) : std::nullopt);
}

std::optional<Error> IndexDescent::walk(const git_tree* tree, std::size_t depth) {
    const std::size_t folder = m_path.size();
    for (std::size_t i = 0; tree != nullptr && i < git_tree_entrycount(tree); ++i) {
        const git_tree_entry* entry = git_tree_entry_byindex(tree, i);
        const char* const name = git_tree_entry_name(entry);
        if (!is_sane(name)) {
            return insane(m_path.substr(0, folder), name);
        }
        m_path.resize(folder);
        m_path += folder == 0 ? "" : "/";
        m_path += name;
        if (auto error = m_bounds.count(m_path, depth)) {
            return error;
        }
        if (!is_folder(entry)) {
            meet(entry);
            continue;
        }
        TreeHandle inside;
        if (const int code = git_tree_lookup(into(inside), m_repository, git_tree_entry_id(entry));
            code != 0) {
            return missing(m_repository, fmt::format("the folder {}", m_path), code);
        }
        if (auto error = walk(inside.get(), depth + 1)) {
            return error;
        }
    }
    m_path.resize(folder);
    return std::nullopt;
}

std::vector<Difference> IndexDescent::take() && {
    for (const git_index_entry* left = next(); left != nullptr; left = next()) {
        add(std::nullopt, entry_of(*left));
        ++m_next;
    }
    put_in_order(m_found);
    return std::move(m_found);
}

} // namespace

std::optional<Error> Bounds::count(const std::string& path, std::size_t depth) {
    m_bytes += path.size() + 64;
    if (path.size() > max_path_bytes) {
        return refused(
            fmt::format("a path longer than {} bytes: {}...", max_path_bytes, path.substr(0, 100)));
    }
    if (depth > max_depth) {
        return refused(fmt::format("folders more than {} deep: {}...", max_depth, path.substr(0, 100)));
    }
    if (m_bytes > max_listing_bytes) {
        return refused(
            "more files than can be listed: the repository is damaged, or made to exhaust its reader");
    }
    return std::nullopt;
}

std::string joined(const std::string& folder, std::string_view name) {
    return folder.empty() ? std::string(name) : fmt::format("{}/{}", folder, name);
}

std::optional<Entry::Kind> kind_of_mode(unsigned mode) {
    switch (mode & 0170000U) {
    case 0100000U:
        return Entry::Kind::file;
    case 0120000U:
        return Entry::Kind::link;
    case 0160000U:
        return Entry::Kind::module;
    default:
        return std::nullopt;
    }
}

Result<std::vector<Difference>> differences(git_repository* repository, const git_tree* before,
                                            const git_tree* after, const rules::Policy& policy) {
    if (before != nullptr && after != nullptr &&
        git_oid_equal(git_tree_id(before), git_tree_id(after)) != 0) {
        return std::vector<Difference>{};
    }
    Descent descent(repository, policy);
    if (auto error = descent.walk(before, after, "", 0)) {
        return board::failure(*std::move(error));
    }
    std::vector<Difference> found = std::move(descent).take();
    put_in_order(found);
    return found;
}

Result<std::vector<Difference>> differences(git_repository* repository, const git_tree* before,
                                            git_index* after, const rules::Policy& policy) {
    // Where core.ignorecase is set libgit2 sorts the index otherwise.
    git_index_set_caps(after, git_index_caps(after) & ~GIT_INDEX_CAPABILITY_IGNORE_CASE);
    IndexDescent descent(repository, after, policy);
    if (auto error = descent.walk(before, 0)) {
        return board::failure(*std::move(error));
    }
    return std::move(descent).take();
}

Result<std::vector<Entry>> entries_of_tree(git_repository* repository, const git_tree* tree,
                                           const rules::Policy& policy) {
    auto found = differences(repository, nullptr, tree, policy);
    if (!found) {
        return board::failure(found.error());
    }
    std::vector<Entry> entries;
    entries.reserve(found->size());
    for (Difference& difference : found.value()) {
        entries.push_back(*std::move(difference.after));
    }
    return entries;
}

Result<std::string> Repository::root_folder(const State& commit) const {
    auto tree = tree_of(m_handles->repository.get(), commit);
    if (!tree) {
        return board::failure(tree.error());
    }
    return *tree ? Result<std::string>(hex(*git_tree_id(tree->get())))
                 : board::failure(refused(fmt::format("{} has no files", commit.name)));
}

Result<std::vector<FolderItem>> Repository::folder(const std::string& id, const std::string& path) const {
    git_repository* repository = m_handles->repository.get();
    git_oid oid;
    TreeHandle tree;
    int code = git_oid_fromstr(&oid, id.c_str());
    if (code == 0) {
        code = git_tree_lookup(into(tree), repository, &oid);
    }
    if (code != 0) {
        return board::failure(missing(repository, fmt::format("the folder {}", path), code));
    }
    std::vector<FolderItem> items;
    for (std::size_t i = 0; i < git_tree_entrycount(tree.get()); ++i) {
        const git_tree_entry* entry = git_tree_entry_byindex(tree.get(), i);
        const std::string name = git_tree_entry_name(entry);
        if (!is_sane(name)) {
            return board::failure(insane(path, name));
        }
        const bool is_file = kind_of_mode(git_tree_entry_filemode(entry)) == Entry::Kind::file;
        if (is_file || is_folder(entry)) {
            items.push_back({name, hex(*git_tree_entry_id(entry)), is_folder(entry)});
        }
    }
    return items;
}

std::vector<Entry> entries_of_index(git_index* index, const rules::Policy& policy) {
    std::vector<Entry> entries;
    const std::size_t count = git_index_entrycount(index);
    entries.reserve(count);
    for (std::size_t i = 0; i < count; ++i) {
        const git_index_entry* entry = git_index_get_byindex(index, i);
        const auto kind = kind_of_mode(entry->mode);
        if (kind && !is_announced(*entry) && policy.wants(entry->path)) {
            entries.push_back({entry->path, *kind, entry->id});
        }
    }
    // Where core.ignorecase is set libgit2 sorts otherwise.
    std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) { return a.path < b.path; });
    return entries;
}

} // namespace history
