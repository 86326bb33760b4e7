#include "app/cache_folder.hpp"

namespace app {

std::optional<std::filesystem::path> cache_folder(const Environment& environment,
                                                  const std::optional<std::string>& asked) {
    if (asked) {
        return std::filesystem::path(environment.folder) / *asked;
    }
    const auto value = [&](std::string_view name) {
        const auto found = environment.variables.find(name);
        return found == environment.variables.end() ? std::filesystem::path()
                                                    : std::filesystem::path(found->second);
    };
    if (const auto folder = value("XDG_CACHE_HOME");
        folder.is_absolute()) { // others are to be ignored, says its standard
        return folder / "sidelint";
    }
    if (const auto home = value("HOME"); home.is_absolute()) {
        return home / ".cache" / "sidelint";
    }
    return std::nullopt;
}

} // namespace app
