#pragma once
// The `rules:` and `themes:` maps, whose keys come from the catalogue.

#include "app/config_reader.hpp"

namespace app {

void read_rules(ConfigReader& reader, const YamlNode& value, rules::Override& into);
void read_themes(ConfigReader& reader, const YamlNode& value, rules::Policy& into);
void read_aliases(ConfigReader& reader, const YamlNode& value, rules::Settings& into);
void read_ignored(ConfigReader& reader, const YamlNode& value, rules::Settings& into);
void read_wide(ConfigReader& reader, const YamlNode& value, rules::Settings& into);
/// Rule ids and families ("key/*").
[[nodiscard]] std::vector<std::string> rule_names(const rules::Catalogue& catalogue);

} // namespace app
