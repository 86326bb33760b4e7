#include "app/akin.hpp"

#include "app/memory.hpp"
#include "app/remembered.hpp"
#include "app/schedule.hpp"
#include "app/subject.hpp"
#include "rules/packing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>
#include <filesystem>
#include <map>

namespace app {
namespace {

/// Bounds on hostile trees: a few small objects can name each other a billion times over.
constexpr std::size_t most_items = 2'500'000;
constexpr std::size_t longest_path = 4096;

/// One thing in a folder, as the memory has it. Texts point into the folder's row.
struct Item {
    std::string_view name;
    std::string_view id;
    std::size_t is_folder = 0;
    std::string_view marks; ///< their bytes, one behind the other
};

struct Row {
    std::string_view id; ///< of the folder
    std::vector<Item> items;
};

template <class Archive, class Entry> void fields(Archive& archive, Entry& item) {
    archive.text(item.name);
    archive.text(item.id);
    archive.number(item.is_folder);
    archive.text(item.marks);
}

/// Empty when the bytes are not what make_row() writes, whoever wrote them.
Row read_row(std::string_view text) {
    try {
        rules::Unpacker unpacker(text);
        Row row;
        unpacker.text(row.id);
        const std::size_t size = unpacker.size(row.items);
        for (std::size_t i = 0; i < size; ++i) {
            fields(unpacker, row.items[i]);
        }
        return row;
    } catch (const std::out_of_range&) {
        return {};
    }
}

std::string bytes_of(const std::vector<rules::Mark>& marks) {
    return {reinterpret_cast<const char*>(marks.data()), marks.size() * sizeof(rules::Mark)}; // NOLINT
}

bool any_of(std::string_view bytes, const std::vector<rules::Mark>& wanted) {
    for (; bytes.size() >= sizeof(rules::Mark); bytes.remove_prefix(sizeof(rules::Mark))) {
        rules::Mark mark = 0;
        std::memcpy(&mark, bytes.data(), sizeof mark);
        if (std::binary_search(wanted.begin(), wanted.end(), mark)) {
            return true;
        }
    }
    return false;
}

class SetsWalk {
  public:
    SetsWalk(const history::Repository& repository, const AkinTo& wanted, const rules::Policy& policy,
             Memory* memory, std::size_t jobs, std::vector<Error>& errors)
        : m_repository(repository), m_wanted(wanted), m_policy(policy), m_memory(memory), m_jobs(jobs),
          m_errors(errors), m_context(context_of_marks(policy) + name_of_repository()) {}

    [[nodiscard]] std::optional<Error> folder(const std::string& path, const std::string& id);
    [[nodiscard]] std::vector<history::FileState> take() && { return std::move(m_found); }

  private:
    [[nodiscard]] std::string name_of_repository() const;
    [[nodiscard]] Result<std::string> make_row(const std::string& path, const std::string& id,
                                               const Row& former, bool& complete);
    [[nodiscard]] std::vector<std::string> marks_of(const std::vector<history::FileState>& files,
                                                    bool& complete);

    const history::Repository& m_repository;
    const AkinTo& m_wanted;
    const rules::Policy& m_policy;
    Memory* m_memory;
    std::size_t m_jobs;
    std::vector<Error>& m_errors;
    std::string m_context;
    std::size_t m_items = 0;
    std::vector<history::FileState> m_found;
};

/// So that two repositories of one user do not take each other's rows for old ones. A place would do as well,
/// but what CI keeps between runs comes to stand elsewhere.
std::string SetsWalk::name_of_repository() const {
    return std::filesystem::path(m_repository.root()).filename().string();
}

std::string inside(const std::string& folder, std::string_view name) {
    return folder.empty() ? std::string(name) : fmt::format("{}/{}", folder, name);
}

std::vector<std::string> SetsWalk::marks_of(const std::vector<history::FileState>& files, bool& complete) {
    std::vector<std::string> bytes(files.size());
    for (std::size_t i = 0; i < files.size(); ++i) { // git is read by one thread
        auto read = m_repository.bytes(m_wanted.state, files[i]);
        if (read) {
            bytes[i] = std::move(read).value();
        } else {
            m_errors.push_back(read.error());
            complete = false;
        }
    }
    std::vector<std::string> marks(files.size());
    constexpr std::size_t a_job = 16; // a thread costs more than reading a few files
    for_each_index(files.size(), std::min(m_jobs, files.size() / a_job + 1), [&](std::size_t i) {
        marks[i] =
            bytes_of(rules::marks_of(collection::read(files[i].path, std::move(bytes[i]), m_policy.read)));
    });
    return marks;
}

Result<std::string> SetsWalk::make_row(const std::string& path, const std::string& id, const Row& former,
                                       bool& complete) {
    const auto listed = m_repository.folder(id, path);
    if (!listed) {
        return board::failure(listed.error());
    }
    std::map<std::string_view, const Item*> known;
    for (const Item& item : former.items) {
        known[item.name] = &item;
    }
    std::vector<Item> items;
    std::vector<std::size_t> unknown;
    std::vector<history::FileState> files;
    for (const history::FolderItem& item : *listed) {
        const std::string place = inside(path, item.name);
        if (!item.is_folder && (!m_policy.wants(place) || !may_hold_puzzles(place, m_policy))) {
            continue;
        }
        const auto found = known.find(item.name);
        const bool same = found != known.end() && found->second->id == item.id;
        if (!item.is_folder && !same) {
            unknown.push_back(items.size());
            files.push_back({place, item.id});
        }
        items.push_back(
            {item.name, item.id, item.is_folder ? 1U : 0U, same ? found->second->marks : std::string_view()});
    }
    const std::vector<std::string> marks = marks_of(files, complete);
    for (std::size_t i = 0; i < unknown.size(); ++i) {
        items[unknown[i]].marks = marks[i];
    }
    rules::Packer packer;
    packer.text(id);
    packer.size(items);
    for (const Item& item : items) {
        fields(packer, item);
    }
    return packer.packed();
}

std::optional<Error> SetsWalk::folder(const std::string& path, const std::string& id) {
    std::string key = key_of_folder(m_context, path);
    const auto kept = m_memory == nullptr ? std::nullopt : m_memory->find(key);
    std::string text = kept.value_or("");
    Row row = read_row(text);
    if (row.id != id) {
        bool complete = true;
        auto made = make_row(path, id, row, complete);
        if (!made) {
            return made.error();
        }
        text = std::move(made).value();
        row = read_row(text);
        if (m_memory != nullptr && complete) {
            m_memory->keep(std::move(key), text);
        }
    }
    m_items += row.items.size();
    if (m_items > most_items || path.size() > longest_path) {
        return Error{
            Error::Kind::io,
            "more files than can be listed: the repository is damaged, or made to exhaust its reader",
            {},
            {}};
    }
    for (const Item& item : row.items) {
        if (item.is_folder != 0) {
            if (auto error = folder(inside(path, item.name), std::string(item.id))) {
                return error;
            }
        } else if (any_of(item.marks, m_wanted.marks)) {
            if (std::string file = inside(path, item.name); m_wanted.is_looked_at(file)) {
                m_found.push_back({std::move(file), std::string(item.id)});
            }
        }
    }
    return std::nullopt;
}

} // namespace

Result<std::vector<history::FileState>> akin_files(const history::Repository& repository,
                                                   const AkinTo& wanted, const rules::Policy& policy,
                                                   Memory* memory, std::size_t jobs,
                                                   std::vector<Error>& errors) {
    const auto root = repository.root_folder(wanted.state);
    if (!root) {
        return board::failure(root.error());
    }
    SetsWalk walk(repository, wanted, policy, memory, jobs, errors);
    if (auto error = walk.folder("", *root)) {
        return board::failure(*std::move(error));
    }
    auto found = std::move(walk).take();
    std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.path < b.path; });
    return found;
}

} // namespace app
