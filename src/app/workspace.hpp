#pragma once
// Where a run takes place: the root that reported paths are relative to, and what was asked for beneath it.

#include "app/run.hpp"
#include "app/status.hpp"

#include <optional>
#include <string>
#include <vector>

namespace app {

struct Workspace {
    std::string root;   ///< absolute, links resolved
    std::string folder; ///< nearest folder that holds all the paths, relative to the root; "" for the root
    std::vector<std::string> paths; ///< as asked for, relative to the root; "" for the root itself
    std::vector<std::string> named; ///< the same as they were typed
};

/// The folder that holds all of `paths` (the working directory without any): where the search for a root
/// begins. Absolute.
[[nodiscard]] std::string common_folder(const Environment& environment,
                                        const std::vector<std::string>& paths);

/// The root is `given`, else the nearest folder upward with `.git`, else with `.sidelint.yaml`, else the
/// working directory. A path outside it is an Error.
[[nodiscard]] Result<Workspace> find_workspace(const Environment& environment,
                                               const std::vector<std::string>& paths,
                                               const std::optional<std::string>& given);

/// `path` is asked for: one of the workspace's paths or beneath one; everything is when there are none.
[[nodiscard]] bool asked_for(const Workspace& workspace, std::string_view path);

/// Places where a configuration may stand, nearest first: "sets/.sidelint.yaml", ".sidelint.yaml".
[[nodiscard]] std::vector<std::string> config_places(const Workspace& workspace);

} // namespace app
