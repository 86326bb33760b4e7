#include "config/yaml_tree.hpp"

#include "collection/text.hpp"
#include "collection/yaml_node.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace config {
namespace {

using Kind = collection::YamlNode::Kind;

/// Gathers the tree and everything that is wrong with it.
class TreeReader {
  public:
    TreeReader(std::string_view text, std::string_view name) : m_text(text), m_name(name), m_lines(text) {}

    [[nodiscard]] YamlNode read();
    [[nodiscard]] std::vector<Error>& errors() { return m_errors; }

  private:
    void fail(std::size_t at, std::string message, std::string cure = {});
    [[nodiscard]] bool has_clean_bytes();
    [[nodiscard]] YamlNode converted(collection::YamlNode node);
    void add_entry(YamlNode& map, YamlEntry entry, std::size_t at);

    std::string_view m_text;
    std::string_view m_name;
    collection::LineIndex m_lines;
    std::vector<Error> m_errors;
};

void TreeReader::fail(std::size_t at, std::string message, std::string cure) {
    const collection::Place place = m_lines.place(m_text, at);
    m_errors.push_back({Error::Kind::config, std::move(message),
                        fmt::format("{}:{}:{}", m_name, place.line, place.column), std::move(cure)});
}

/// A collection may be in Latin-1; a configuration is ours.
bool TreeReader::has_clean_bytes() {
    for (std::size_t at = 0; at < m_text.size();) {
        const collection::Character c = collection::character_at(m_text, at);
        const bool control =
            (c.code < 0x20 && c.code != '\t' && c.code != '\n' && c.code != '\r') || c.code == 0x7F;
        if (c.broken || control) {
            fail(at, c.broken ? "not UTF-8" : "a control character");
            return false; // one tells enough
        }
        at += c.length;
    }
    return true;
}

void TreeReader::add_entry(YamlNode& map, YamlEntry entry, std::size_t at) {
    const auto same = std::find_if(map.entries.begin(), map.entries.end(),
                                   [&](const YamlEntry& e) { return e.key.text == entry.key.text; });
    if (entry.key.kind != YamlNode::Kind::scalar) {
        fail(at, "a key has to be a plain word");
    } else if (same != map.entries.end()) {
        fail(at, fmt::format("the key '{}' was set in line {} already", entry.key.text, same->key.place.line),
             "keep one of the two");
    } else {
        map.entries.push_back(std::move(entry));
    }
}

YamlNode TreeReader::converted(collection::YamlNode node) { // no deeper than YamlStream reads
    YamlNode result;
    result.place = m_lines.place(m_text, node.span.begin);
    switch (node.kind) {
    case Kind::scalar:
        result.kind = node.is_null() ? YamlNode::Kind::null : YamlNode::Kind::scalar;
        result.text = std::move(node.scalar.text);
        break;
    case Kind::sequence:
        result.kind = YamlNode::Kind::list;
        for (collection::YamlNode& item : node.items) {
            result.items.push_back(converted(std::move(item)));
        }
        break;
    case Kind::mapping:
        result.kind = YamlNode::Kind::map;
        for (std::size_t i = 0; i + 1 < node.items.size(); i += 2) {
            const std::size_t at = node.items[i].span.begin;
            YamlNode key = converted(std::move(node.items[i]));
            add_entry(result, {std::move(key), converted(std::move(node.items[i + 1]))}, at);
        }
        break;
    }
    return result;
}

YamlNode TreeReader::read() {
    if (m_text.size() > max_config_bytes) {
        fail(0, fmt::format("longer than {} bytes", max_config_bytes));
        return {};
    }
    if (!has_clean_bytes()) {
        return {};
    }
    const std::size_t begin = m_text.starts_with("\xEF\xBB\xBF") ? 3 : 0;
    collection::YamlStream stream(m_text, {begin, m_text.size()});
    YamlNode root;
    collection::YamlEvent event = stream.next();
    if (event.kind != collection::YamlEvent::Kind::stream_end && !stream.broken()) {
        if (auto node = stream.node(std::move(event))) {
            root = converted(std::move(*node));
        }
        event = stream.next();
    }
    for (const collection::Fault& fault : stream.take_faults()) {
        fail(fault.span.begin, "anchors and aliases are not read", "write the value out");
    }
    if (stream.broken()) {
        fail(stream.broken()->span.begin, fmt::format("not YAML: {}", stream.broken()->what));
    } else if (event.kind != collection::YamlEvent::Kind::stream_end) {
        fail(event.span.begin, "more than one document", "remove everything from the second '---' on");
    }
    return root;
}

} // namespace

board::Result<YamlNode, std::vector<Error>> read_yaml(std::string_view bytes, std::string_view name) {
    TreeReader reader(bytes, name);
    YamlNode root = reader.read();
    if (!reader.errors().empty()) {
        return board::failure(std::move(reader.errors()));
    }
    return root;
}

} // namespace config
