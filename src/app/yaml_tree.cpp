// yaml-cpp's tree follows aliases (bombs, cycles), keeps doubled keys in silence and lets a quote run to the
// end of the file. Its events do none of the first two; the third is looked for here.

#include "app/yaml_tree.hpp"

#include "collection/text.hpp"

#include <fmt/format.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/mark.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <sstream>

namespace app {
namespace {

constexpr std::size_t max_depth = 32;

class Faults {
  public:
    explicit Faults(std::string_view name) : m_name(name) {}

    void add(collection::Place place, std::string message, std::string cure = {}) {
        m_errors.push_back({Error::Kind::config, std::move(message),
                            fmt::format("{}:{}:{}", m_name, place.line, place.column), std::move(cure)});
    }
    [[nodiscard]] std::vector<Error>& errors() { return m_errors; }

  private:
    std::string m_name;
    std::vector<Error> m_errors;
};

class Builder : public YAML::EventHandler {
  public:
    Builder(std::string_view text, const collection::LineIndex& lines, Faults& faults)
        : m_text(text), m_lines(lines), m_faults(faults) {}

    void OnDocumentStart(const YAML::Mark& /*mark*/) override {}
    void OnDocumentEnd() override {}
    void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
        refuse_anchor(mark, anchor);
        attach(node_at(mark, YamlNode::Kind::null));
    }
    void OnAlias(const YAML::Mark& mark, YAML::anchor_t /*anchor*/) override {
        m_faults.add(place_of(mark), "aliases are not read", "write the value out");
        attach(node_at(mark, YamlNode::Kind::null));
    }
    void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  const std::string& value) override {
        refuse_anchor(mark, anchor);
        refuse_tag(mark, tag);
        if (tag == "!" && !is_closed(mark)) {
            m_faults.add(place_of(mark), "the quote that opens here is never closed");
        }
        YamlNode node = node_at(mark, YamlNode::Kind::scalar);
        node.text = value;
        attach(std::move(node));
    }
    void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                         YAML::EmitterStyle::value /*style*/) override {
        open(mark, tag, anchor, YamlNode::Kind::list);
    }
    void OnSequenceEnd() override { close(); }
    void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                    YAML::EmitterStyle::value /*style*/) override {
        open(mark, tag, anchor, YamlNode::Kind::map);
    }
    void OnMapEnd() override { close(); }

    [[nodiscard]] YamlNode take() && { return std::move(m_root); }

  private:
    /// A collection being read; a map's key waits for its value.
    struct Open {
        YamlNode node;
        std::vector<YamlNode> key;
    };

    [[nodiscard]] std::size_t offset_of(const YAML::Mark& mark) const {
        return std::min(static_cast<std::size_t>(std::max(mark.pos, 0)), m_text.size());
    }
    [[nodiscard]] collection::Place place_of(const YAML::Mark& mark) const {
        return m_lines.place(m_text, offset_of(mark));
    }
    [[nodiscard]] YamlNode node_at(const YAML::Mark& mark, YamlNode::Kind kind) const {
        YamlNode node;
        node.kind = kind;
        node.place = place_of(mark);
        return node;
    }
    void refuse_anchor(const YAML::Mark& mark, YAML::anchor_t anchor) {
        if (anchor != 0) {
            m_faults.add(place_of(mark), "anchors are not read", "remove the '&name'");
        }
    }
    void refuse_tag(const YAML::Mark& mark, const std::string& tag) {
        if (!tag.empty() && tag != "?" && tag != "!") {
            m_faults.add(place_of(mark), fmt::format("tags are not read: {}", tag), "remove it");
        }
    }
    [[nodiscard]] bool is_closed(const YAML::Mark& mark) const;

    void open(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor, YamlNode::Kind kind) {
        refuse_anchor(mark, anchor);
        refuse_tag(mark, tag);
        m_open.push_back({node_at(mark, kind), {}});
        if (m_open.size() == max_depth + 1) {
            m_faults.add(place_of(mark), fmt::format("nested deeper than {} levels", max_depth));
        }
    }
    void close() {
        YamlNode node = std::move(m_open.back().node);
        m_open.pop_back();
        attach(std::move(node));
    }
    void attach(YamlNode node);
    void add_entry(YamlNode& map, YamlNode key, YamlNode value);

    std::string_view m_text;
    const collection::LineIndex& m_lines;
    Faults& m_faults;
    YamlNode m_root;
    std::vector<Open> m_open;
};

/// Whether the quoted scalar at `mark` ends before the text does.
bool Builder::is_closed(const YAML::Mark& mark) const {
    std::size_t at = offset_of(mark);
    if (at >= m_text.size() || (m_text[at] != '"' && m_text[at] != '\'')) {
        return true; // a block scalar, which needs no end
    }
    const char quote = m_text[at];
    for (++at; at < m_text.size(); ++at) {
        if (quote == '"' && m_text[at] == '\\') {
            ++at;
        } else if (quote == '\'' && m_text.substr(at, 2) == "''") {
            ++at;
        } else if (m_text[at] == quote) {
            return true;
        }
    }
    return false;
}

void Builder::attach(YamlNode node) {
    if (m_open.empty()) {
        m_root = std::move(node);
        return;
    }
    Open& parent = m_open.back();
    if (parent.node.kind == YamlNode::Kind::list) {
        parent.node.items.push_back(std::move(node));
    } else if (parent.key.empty()) {
        parent.key.push_back(std::move(node));
    } else {
        YamlNode key = std::move(parent.key.back());
        parent.key.clear();
        add_entry(parent.node, std::move(key), std::move(node));
    }
}

void Builder::add_entry(YamlNode& map, YamlNode key, YamlNode value) {
    if (key.kind != YamlNode::Kind::scalar) {
        m_faults.add(key.place, "a key has to be a plain word");
        return;
    }
    const auto same = std::find_if(map.entries.begin(), map.entries.end(),
                                   [&](const YamlEntry& entry) { return entry.key.text == key.text; });
    if (same != map.entries.end()) {
        m_faults.add(key.place,
                     fmt::format("the key '{}' was set in line {} already", key.text, same->key.place.line),
                     "keep one of the two");
        return;
    }
    map.entries.push_back({std::move(key), std::move(value)});
}

/// Text that yaml-cpp would take without a word.
void check_bytes(std::string_view text, const collection::LineIndex& lines, Faults& faults) {
    for (std::size_t at = 0; at < text.size();) {
        const collection::Character c = collection::character_at(text, at);
        const bool control =
            (c.code < 0x20 && c.code != '\t' && c.code != '\n' && c.code != '\r') || c.code == 0x7F;
        if (c.broken || control) {
            faults.add(lines.place(text, at), c.broken ? "not UTF-8" : "a control character");
            return; // one tells enough
        }
        at += c.length;
    }
}

} // namespace

board::Result<YamlNode, std::vector<Error>> read_yaml(std::string_view bytes, std::string_view name) {
    Faults faults(name);
    if (bytes.size() > max_config_bytes) {
        faults.add({}, fmt::format("longer than {} bytes", max_config_bytes));
        return board::failure(std::move(faults.errors()));
    }
    if (bytes.starts_with("\xEF\xBB\xBF")) {
        bytes.remove_prefix(3);
    }
    const collection::LineIndex lines(bytes);
    check_bytes(bytes, lines, faults);
    Builder builder(bytes, lines, faults);
    if (faults.errors().empty()) {
        try {
            std::istringstream stream{std::string(bytes)};
            YAML::Parser parser(stream);
            parser.HandleNextDocument(builder);
            if (parser) {
                faults.add({}, "more than one document", "remove everything from the second '---' on");
            }
        } catch (const YAML::Exception& fault) {
            const auto offset = static_cast<std::size_t>(std::max(fault.mark.pos, 0));
            faults.add(lines.place(bytes, std::min(offset, bytes.size())),
                       fmt::format("not YAML: {}", fault.msg));
        }
    }
    if (!faults.errors().empty()) {
        return board::failure(std::move(faults.errors()));
    }
    return std::move(builder).take();
}

} // namespace app
