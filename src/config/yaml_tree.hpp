#pragma once
// A configuration's YAML as a plain tree with places. Stricter than YAML: no aliases, no doubled keys, one
// document.

#include "collection/error.hpp"
#include "collection/span.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace config {

using collection::Error;

struct YamlEntry;

struct YamlNode {
    enum class Kind : std::uint8_t { null, scalar, list, map };
    Kind kind = Kind::null;
    std::string text; ///< scalar
    collection::Place place;
    std::vector<YamlNode> items;    ///< list
    std::vector<YamlEntry> entries; ///< map, in order
};

struct YamlEntry {
    YamlNode key; ///< always a scalar
    YamlNode value;
};

inline constexpr std::size_t max_config_bytes = std::size_t{1} << 20U;

/// All faults at once, placed as "<name>:line:column". An empty text is a null node.
[[nodiscard]] board::Result<YamlNode, std::vector<Error>> read_yaml(std::string_view bytes,
                                                                    std::string_view name);

} // namespace config
