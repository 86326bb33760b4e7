// Files of the worktree, found without git and without following a link.

#include "app/memory.hpp"
#include "app/remembered.hpp"
#include "app/schedule.hpp"
#include "app/subject.hpp"
#include "history/repository.hpp"
#include "history/worktree.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

namespace app {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t max_depth = 256;

struct Found {
    std::vector<std::string> paths;
    std::vector<std::string> remarks;
    Errors errors;
};

/// Gathers the puzzle files beneath a folder.
class FolderWalk {
  public:
    FolderWalk(const std::string& root, const rules::Policy& policy, Found& found)
        : m_root(root), m_policy(policy), m_found(found) {}

    void folder(const std::string& path, std::size_t depth);

  private:
    void entry(const fs::directory_entry& entry, const std::string& path, std::size_t depth);

    const std::string& m_root;
    const rules::Policy& m_policy;
    Found& m_found;
};

void FolderWalk::entry(const fs::directory_entry& entry, const std::string& path, std::size_t depth) {
    std::error_code ignored;
    const fs::file_status status = entry.symlink_status(ignored);
    const bool wanted = m_policy.wants(path) && may_hold_puzzles(path, m_policy);
    if (fs::is_symlink(status)) {
        if (wanted || fs::is_directory(entry.status(ignored))) {
            m_found.remarks.push_back(fmt::format("{}: a link, not followed", path));
        }
    } else if (fs::is_directory(status)) {
        if (fs::exists(entry.path() / ".git", ignored)) {
            m_found.remarks.push_back(fmt::format("{}: a repository of its own, not looked at", path));
        } else if (entry.path().filename() != ".git") {
            folder(path, depth + 1);
        }
    } else if (wanted && fs::is_regular_file(status)) {
        m_found.paths.push_back(path);
    } else if (wanted) {
        m_found.remarks.push_back(fmt::format("{}: not a regular file, not read", path));
    }
}

void FolderWalk::folder(const std::string& path, std::size_t depth) {
    if (depth > max_depth) {
        m_found.errors.push_back(io_error(path, fmt::format("folders are nested deeper than {}", max_depth)));
        return;
    }
    std::error_code fault;
    fs::directory_iterator entries(fs::path(m_root) / path, fault);
    for (; !fault && entries != fs::directory_iterator(); entries.increment(fault)) {
        entry(*entries, (fs::path(path) / entries->path().filename()).generic_string(), depth);
    }
    if (fault) {
        m_found.errors.push_back(
            io_error(path.empty() ? "." : path, "cannot read this folder: " + fault.message()));
    }
}

/// A file named on the command line: `include` does not hold it back, `exclude` does.
void take_file(const std::string& path, rules::Policy policy, Found& found) {
    policy.include.clear();
    if (!policy.wants(path)) {
        found.remarks.push_back(fmt::format("{}: excluded by the configuration", path));
    } else if (!may_hold_puzzles(path, policy)) {
        found.remarks.push_back(fmt::format("{}: no puzzle file", path));
    } else {
        found.paths.push_back(path);
    }
}

/// The first part of a path that is a link.
std::optional<std::string> link_on_the_way(const std::string& root, const std::string& path) {
    fs::path so_far;
    for (const fs::path& part : fs::path(path)) {
        so_far /= part;
        std::error_code ignored;
        if (fs::is_symlink(fs::symlink_status(fs::path(root) / so_far, ignored))) {
            return so_far.generic_string();
        }
    }
    return std::nullopt;
}

Errors refused_links(const Workspace& workspace) {
    Errors errors;
    for (const std::string& path : workspace.paths) {
        if (const auto link = link_on_the_way(workspace.root, path)) {
            errors.push_back(
                usage_error(fmt::format("{}: links are not followed", *link), "name what it points to"));
        }
    }
    return errors;
}

/// A path that is not there is wrong use and ends the run before anything is checked.
board::Result<Found, Errors> find_files(const Workspace& workspace, const rules::Policy& policy) {
    Found found;
    Errors wrong;
    std::vector<std::string> asked = workspace.paths;
    if (asked.empty()) {
        asked.push_back(workspace.folder);
    }
    for (std::size_t i = 0; i < asked.size(); ++i) {
        std::error_code fault;
        const fs::file_status status = fs::status(fs::path(workspace.root) / asked[i], fault);
        if (!fs::exists(status)) {
            wrong.push_back(usage_error(fmt::format("{}: no such file or folder",
                                                    workspace.named.empty() ? "." : workspace.named[i])));
        } else if (fs::is_directory(status)) {
            FolderWalk(workspace.root, policy, found).folder(asked[i], 0);
        } else {
            take_file(asked[i], policy, found);
        }
    }
    if (!wrong.empty()) {
        return board::failure(std::move(wrong));
    }
    std::sort(found.paths.begin(), found.paths.end());
    found.paths.erase(std::unique(found.paths.begin(), found.paths.end()), found.paths.end());
    std::sort(found.remarks.begin(), found.remarks.end());
    return found;
}

Result<std::string> read_one(const std::string& root, const std::string& path) {
    auto bytes = history::read_beneath(root, path);
    if (!bytes) {
        return board::failure(bytes.error());
    }
    if (!*bytes) {
        return board::failure(io_error(path, "gone while it was to be read"));
    }
    return std::move(*bytes.value());
}

std::vector<FileText> read_all(const std::string& root, const std::vector<std::string>& paths) {
    std::vector<FileText> files;
    files.reserve(paths.size());
    for (const std::string& path : paths) {
        files.push_back({path, read_one(root, path)});
    }
    return files;
}

/// The text on standard input under the name it was given; nothing when that is excluded.
Found name_input(const Workspace& workspace, const rules::Policy& policy) {
    Found found;
    take_file(workspace.paths.front(), policy, found);
    return found;
}

/// Takes out of `files` those that an earlier run has judged.
std::vector<KnownFile> take_known(std::vector<FileText>& files, const rules::Policy& policy,
                                  const Recall& recall, std::size_t jobs) {
    std::vector<std::optional<FileOutcome>> outcomes(files.size());
    for_each_index(files.size(), jobs, [&](std::size_t i) {
        if (files[i].bytes) {
            const std::string& path = files[i].path;
            rules::Settings settings = policy.for_file(path);
            settings.endgames = recall.endgames;
            const auto row =
                recall.memory->find(key_of_file(path, *files[i].bytes, policy, settings, recall.summarise));
            outcomes[i] = row ? unpack_outcome(*row) : std::nullopt;
        }
    });
    std::vector<KnownFile> known;
    std::vector<FileText> unknown;
    for (std::size_t i = 0; i < files.size(); ++i) {
        if (outcomes[i]) {
            known.push_back(
                {std::move(files[i].path), std::move(files[i].bytes).value(), std::move(*outcomes[i])});
        } else {
            unknown.push_back(std::move(files[i]));
        }
    }
    files = std::move(unknown);
    return known;
}

} // namespace

board::Result<Configuration, Errors> configuration_here(const CheckOptions& options,
                                                        const Environment& environment,
                                                        const Workspace& workspace,
                                                        const rules::Catalogue& catalogue) {
    if (!options.config_from) {
        return find_configuration(options, environment, workspace, catalogue, [&](std::string_view path) {
            return history::read_beneath(workspace.root, path);
        });
    }
    const auto trust = options.trust_repository ? history::Trust::anyone : history::Trust::owner_only;
    const auto repository = history::Repository::open(workspace.root, trust);
    if (!repository) {
        return board::failure(Errors{repository.error()});
    }
    const auto state = repository->commit(*options.config_from);
    if (!state) {
        return board::failure(Errors{state.error()});
    }
    return find_configuration(options, environment, workspace, catalogue,
                              [&](std::string_view path) { return repository->bytes_at(*state, path); });
}

LoadedSubject load_files(const CheckOptions& options, const Environment& environment,
                         const rules::Catalogue& catalogue, const Recall& recall, std::size_t jobs) {
    const auto workspace = find_workspace(environment, options.places(), std::nullopt);
    if (!workspace) {
        return board::failure(Errors{workspace.error()});
    }
    if (Errors links = refused_links(*workspace); !links.empty()) {
        return board::failure(std::move(links));
    }
    auto configuration = configuration_here(options, environment, *workspace, catalogue);
    if (!configuration) {
        return board::failure(std::move(configuration).error());
    }
    Subject subject;
    subject.policy = configuration->policy;
    subject.everything = options.paths.empty() && workspace->folder.empty();
    auto found = options.input ? board::Result<Found, Errors>(name_input(*workspace, subject.policy))
                               : find_files(*workspace, subject.policy);
    if (!found) {
        return board::failure(std::move(found).error());
    }
    subject.remarks = found->remarks;
    subject.errors = found->errors;
    std::vector<FileText> files;
    if (!options.input) {
        files = read_all(workspace->root, found->paths);
    } else if (!found->paths.empty()) {
        files.push_back({found->paths.front(), *options.input});
    }
    if (recall.memory != nullptr && recall.files) {
        subject.known = take_known(files, subject.policy, recall, jobs);
    }
    subject.documents = read_documents(std::move(files), subject.policy, jobs, subject.errors);
    if (subject.documents.empty() && subject.known.empty() && subject.errors.empty() &&
        !options.allow_empty && !options.input) {
        return board::failure(Errors{nothing_matched(*workspace, subject.policy)});
    }
    return subject;
}

} // namespace app
