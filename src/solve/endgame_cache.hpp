#pragma once
// Tables on disk, one file a material, packed. A cache: what is missing, foreign or damaged counts as absent.

#include "solve/endgame_table.hpp"

#include <filesystem>
#include <optional>

namespace solve::endgame {

/// "kqkr.endgame"
[[nodiscard]] std::filesystem::path cache_file(const std::filesystem::path& folder, const Material& material);
[[nodiscard]] std::optional<Table> read_cached(const std::filesystem::path& folder, const Material& material);
/// Whole or not at all, also when several processes write. Failing is no error.
void write_cached(const std::filesystem::path& folder, const Table& table);

} // namespace solve::endgame
