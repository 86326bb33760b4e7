#pragma once
// The `rules:` and `themes:` maps, whose keys come from the catalogue.

#include "config/reader.hpp"

namespace config {

void read_rules(Reader& reader, const YamlNode& value, rules::Override& into);
void read_themes(Reader& reader, const YamlNode& value, rules::Policy& into);
void read_aliases(Reader& reader, const YamlNode& value, rules::Settings& into);
void read_ignored(Reader& reader, const YamlNode& value, rules::Settings& into);
void read_wide(Reader& reader, const YamlNode& value, rules::Settings& into);
/// Rule ids and families ("key/*").
[[nodiscard]] std::vector<std::string> rule_names(const rules::Catalogue& catalogue);

} // namespace config
