#include "app/config_origin.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace app {

using config::YamlEntry;
using config::YamlNode;

namespace {

constexpr const char* by_default = "default";

const YamlEntry* entry_of(const YamlNode& map, std::string_view key) {
    const auto found = std::find_if(map.entries.begin(), map.entries.end(),
                                    [&](const YamlEntry& entry) { return entry.key.text == key; });
    return found == map.entries.end() ? nullptr : &*found;
}

/// What stands below these keys, one in the other: the innermost key, whose place people look for.
const YamlNode* below(const YamlNode& map, std::initializer_list<std::string_view> keys) {
    const YamlNode* at = &map;
    const YamlNode* key = nullptr;
    for (const std::string_view name : keys) {
        const YamlEntry* const entry = entry_of(*at, name);
        if (entry == nullptr) {
            return nullptr;
        }
        key = &entry->key;
        at = &entry->value;
    }
    return key;
}

/// The same when it is a level: written alone, or beside options.
const YamlNode* level_below(const YamlNode& settings, std::string_view name) {
    const YamlEntry* const rules = entry_of(settings, "rules");
    const YamlEntry* const entry = rules == nullptr ? nullptr : entry_of(rules->value, name);
    if (entry == nullptr) {
        return nullptr;
    }
    return entry->value.kind == YamlNode::Kind::map ? below(entry->value, {"level"}) : &entry->key;
}

/// The entries of a list, or the one that stands where a list may.
std::vector<const YamlNode*> items_of(const YamlNode& node) {
    std::vector<const YamlNode*> items;
    if (node.kind == YamlNode::Kind::list) {
        for (const YamlNode& item : node.items) {
            items.push_back(&item);
        }
    } else {
        items.push_back(&node);
    }
    return items;
}

} // namespace

Origins::Origins(const Configuration& configuration, const CheckOptions& options)
    : m_configuration(configuration), m_options(options) {
    if (auto tree = config::read_yaml(configuration.text, configuration.place)) {
        m_tree = std::move(tree).value();
    }
}

std::string Origins::line_of(const YamlNode& node) const {
    return fmt::format("{}:{}", m_configuration.place, node.place.line);
}

std::string Origins::of_override(std::size_t index) const {
    const YamlEntry* const list = entry_of(m_tree, "overrides");
    const auto items = list == nullptr ? std::vector<const YamlNode*>() : items_of(list->value);
    return index < items.size() ? line_of(*items[index]) : "command line";
}

std::optional<std::string> Origins::said(std::string_view path, const Look& look) const {
    const YamlEntry* const list = entry_of(m_tree, "overrides");
    const auto items = list == nullptr ? std::vector<const YamlNode*>() : items_of(list->value);
    const auto& overrides = m_configuration.policy.overrides; // the command line's behind those of the file
    for (std::size_t i = std::min(items.size(), overrides.size()); i-- > 0;) { // later ones win
        const bool fits = !path.empty() && collection::glob_matches(overrides[i].files, path);
        if (const YamlNode* const node = fits ? look(*items[i]) : nullptr) {
            return fmt::format("{}, for {}", line_of(*node), overrides[i].files);
        }
    }
    const YamlNode* const node = look(m_tree);
    return node == nullptr ? std::nullopt : std::optional(line_of(*node));
}

std::string Origins::of_key(std::string_view key, std::string_view path) const {
    if (key == "effort" && m_options.effort) {
        return "command line";
    }
    return said(path, [key](const YamlNode& map) { return below(map, {key}); }).value_or(by_default);
}

std::string Origins::of_level(const std::string& rule, std::string_view path) const {
    const std::string family = rule.substr(0, rule.find('/')) + "/*";
    for (const auto& [name, level] : m_options.levels) {
        if (name == rule || name == family) {
            return "command line";
        }
    }
    for (const std::string& name :
         {rule, family}) { // a rule's own level before its family's, wherever it stands
        const auto found = said(path, [&name](const YamlNode& map) { return level_below(map, name); });
        if (found) {
            return name == rule ? *found : fmt::format("{} ({})", *found, family);
        }
    }
    return by_default;
}

std::string Origins::of_option(const std::string& rule, const std::string& option,
                               std::string_view path) const {
    return said(path,
                [&](const YamlNode& map) {
                    return below(map, {"rules", rule, option});
                })
        .value_or(by_default);
}

} // namespace app
