#include "app/endgames.hpp"

#include <filesystem>
#include <optional>

namespace app {
namespace {

std::optional<std::filesystem::path> cache_folder(const Environment& environment) {
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

} // namespace

solve::EndgameTables endgame_tables(const Environment& environment) {
    return solve::EndgameTables(cache_folder(environment));
}

} // namespace app
