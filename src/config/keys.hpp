#pragma once
// Every key of `.sidelint.yaml`, once.

#include "config/reader.hpp"

namespace config {

/// At the top and in an override.
[[nodiscard]] Keys<rules::Override> settings_keys();
/// At the top only.
[[nodiscard]] Keys<rules::Policy> top_keys();
/// In an override only.
[[nodiscard]] Keys<rules::Override> override_keys();
[[nodiscard]] Keys<collection::TableMapping> table_keys();
[[nodiscard]] Keys<collection::TableMapping> column_keys();
[[nodiscard]] Keys<collection::TagMapping> tag_keys();

/// In `themes:`.
[[nodiscard]] Keys<rules::Settings> theme_keys();

/// "off note warning error"
[[nodiscard]] std::vector<std::string> level_names();

} // namespace config
