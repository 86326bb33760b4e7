#include "app/workspace.hpp"

#include "config/config.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

namespace app {
namespace {

namespace fs = std::filesystem;

fs::path folder_of(const fs::path& path) {
    std::error_code ignored;
    return fs::is_directory(path, ignored) || !path.has_relative_path() ? path : path.parent_path();
}

/// `path` is `folder` or beneath it.
bool is_within(const fs::path& path, const fs::path& folder) {
    return std::mismatch(folder.begin(), folder.end(), path.begin(), path.end()).first == folder.end();
}

std::optional<fs::path> upward(fs::path folder, std::string_view wanted) {
    std::error_code ignored;
    while (!fs::exists(folder / wanted, ignored)) {
        if (!folder.has_relative_path()) {
            return std::nullopt;
        }
        folder = folder.parent_path();
    }
    return folder;
}

fs::path without_links(const fs::path& path) {
    std::error_code fault;
    const fs::path real = fs::weakly_canonical(path, fault);
    return fault ? path.lexically_normal() : real;
}

/// Absolute. Links beneath the working directory or its repository stay in the path, so that whoever reads
/// refuses them; on the way to another place they are resolved, all but the last.
fs::path resolved(const Environment& environment, const std::string& path) {
    const fs::path current = without_links(environment.folder);
    fs::path whole = (current / path).lexically_normal();
    if (!whole.has_filename()) {
        whole = whole.parent_path(); // "a/b/" is "a/b"
    }
    return is_within(whole, upward(current, ".git").value_or(current))
               ? whole
               : without_links(whole.parent_path()) / whole.filename();
}

std::string relative_to(const fs::path& root, const fs::path& path) {
    const std::string relative = path.lexically_relative(root).generic_string();
    return relative == "." ? "" : relative;
}

} // namespace

std::string common_folder(const Environment& environment, const std::vector<std::string>& paths) {
    if (paths.empty()) {
        return resolved(environment, "").string();
    }
    fs::path common = folder_of(resolved(environment, paths.front()));
    for (const std::string& path : paths) {
        while (!is_within(resolved(environment, path), common)) {
            common = common.parent_path();
        }
    }
    return common.string();
}

Result<Workspace> find_workspace(const Environment& environment, const std::vector<std::string>& paths,
                                 const std::optional<std::string>& given) {
    const fs::path common = common_folder(environment, paths);
    const fs::path current = resolved(environment, "");
    fs::path root = is_within(common, current) ? current : common;
    if (given) {
        root = resolved(environment, *given);
    } else if (const auto repository = upward(common, ".git")) {
        root = *repository;
    } else if (const auto configured = upward(common, config::file_name)) {
        root = *configured;
    }
    Workspace workspace{root.string(), {}, {}, paths};
    for (const std::string& path : paths) {
        const fs::path real = resolved(environment, path);
        if (!is_within(real, root)) {
            return board::failure(
                usage_error(fmt::format("{} lies outside the repository {}", path, root.string()),
                            "run sidelint once for each repository"));
        }
        workspace.paths.push_back(relative_to(root, real));
    }
    workspace.folder = is_within(common, root) ? relative_to(root, common) : "";
    return workspace;
}

bool asked_for(const Workspace& workspace, std::string_view path) {
    const auto holds = [path](const std::string& asked) {
        return asked.empty() || path == asked || (path.starts_with(asked) && path[asked.size()] == '/');
    };
    return workspace.paths.empty() || std::any_of(workspace.paths.begin(), workspace.paths.end(), holds);
}

std::vector<std::string> config_places(const Workspace& workspace) {
    std::vector<std::string> places;
    std::string folder = workspace.folder;
    while (!folder.empty()) {
        places.push_back(fmt::format("{}/{}", folder, config::file_name));
        const std::size_t slash = folder.rfind('/');
        folder.resize(slash == std::string::npos ? 0 : slash);
    }
    places.emplace_back(config::file_name);
    return places;
}

} // namespace app
