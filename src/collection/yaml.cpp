#include "collection/builder.hpp"
#include "collection/readers.hpp"
#include "collection/text.hpp"
#include "collection/yaml_node.hpp"
#include "collection/yaml_puzzle.hpp"

#include <algorithm>
#include <set>

namespace collection {

namespace {

constexpr int max_stretches = 200; // how often reading is taken up again behind a fault

/// Where reading goes on: at the top of the collection, or in the midst of its list.
struct Stretch {
    enum class Shape : std::uint8_t { collection, items, lone_item } shape;
    Span part;
};

std::size_t line_start(std::string_view text, std::size_t at) {
    while (at > 0 && !is_line_end(text[at - 1])) {
        --at;
    }
    return at;
}

/// Reads on after a fault: the puzzle it stands in is looked at by itself, the next one as if nothing had
/// been.
class Reader {
  public:
    Reader(Document& document, Span part) : m_document(document), m_part(part) {}

    void read() {
        std::optional<Stretch> stretch = Stretch{Stretch::Shape::collection, m_part};
        for (int i = 0; stretch && !m_full && i < max_stretches; ++i) {
            stretch = read_stretch(*stretch);
        }
        if (m_defaults) {
            apply_defaults(m_document, m_first_puzzle, *m_defaults);
        }
    }

  private:
    [[nodiscard]] std::string_view text() const {
        return std::string_view(m_document.bytes).substr(0, m_part.end);
    }

    void fault(Fault::Kind kind, Span span, std::string what, std::string cure = {}) {
        add_fault(m_document.faults, {kind, span, std::move(what), std::move(cure)});
    }

    std::optional<Stretch> read_stretch(const Stretch& stretch) {
        YamlStream stream(m_document.bytes, stretch.part);
        if (stretch.shape == Stretch::Shape::collection) {
            m_list.reset();
        } else {
            m_item = stretch.part.begin;
            m_item_done = false;
        }
        read_roots(stream, stretch.shape != Stretch::Shape::collection);
        for (Fault& found : stream.take_faults()) {
            add_fault(m_document.faults, std::move(found));
        }
        if (!stream.broken()) {
            return stretch.shape == Stretch::Shape::collection ? std::nullopt : next_item(stretch.part.end);
        }
        const bool look_closer = m_list && stretch.shape != Stretch::Shape::lone_item && !m_item_done;
        if (look_closer) {
            const std::size_t begin = line_start(text(), m_item);
            const std::optional<Stretch> next = next_item(next_line(text(), m_item));
            return Stretch{Stretch::Shape::lone_item, {begin, next ? next->part.begin : m_part.end}};
        }
        add_fault(m_document.faults, *stream.broken());
        return m_list ? next_item(next_line(text(), m_item)) : next_collection(stretch.part.begin);
    }

    void read_roots(YamlStream& stream, bool items) {
        while (!m_full) {
            YamlEvent event = stream.next();
            if (event.kind == YamlEvent::Kind::none || event.kind == YamlEvent::Kind::stream_end) {
                return;
            }
            if (items && event.kind == YamlEvent::Kind::sequence_start) {
                read_items(stream);
            } else if (event.kind == YamlEvent::Kind::mapping_start) {
                read_collection(stream);
            } else {
                const Span span = event.span;
                static_cast<void>(stream.node(std::move(event)));
                fault(Fault::Kind::syntax, span, "No collection",
                      "Begin with the keys collection, defaults and puzzles");
            }
        }
    }

    // Top level
    // -------------------------------------------------------------------------------------------------

    void read_collection(YamlStream& stream) {
        std::set<std::string> keys;
        while (!m_full) {
            const std::optional<YamlNode> key = stream.node(stream.next());
            if (!key) {
                return; // the mapping's end, or a fault
            }
            const std::string& name = key->scalar.text;
            YamlEvent value = stream.next();
            if (!keys.insert(name).second) {
                fault(Fault::Kind::syntax, key->span, "The key " + quoted(name) + " stands twice",
                      "Keep one of them");
            }
            if (name == "puzzles" && value.kind == YamlEvent::Kind::sequence_start) {
                note_list(value.span.begin);
                read_items(stream);
                m_item_done = true;
                continue;
            }
            std::optional<YamlNode> node = stream.node(std::move(value));
            if (!node) {
                return;
            }
            take(*key, std::move(*node));
        }
    }

    void take(const YamlNode& key, YamlNode value) {
        const std::string& name = key.scalar.text;
        if (name == "puzzles") {
            if (!value.is_null()) {
                fault(Fault::Kind::syntax, key.span, "puzzles must be a list",
                      "Begin each puzzle with \"- id:\"");
            }
        } else if (name == "defaults") {
            if (value.kind == YamlNode::Kind::mapping) {
                m_defaults = std::move(value);
            } else if (!value.is_null()) {
                fault(Fault::Kind::syntax, key.span, "defaults must have keys, as a puzzle has");
            }
        } else if (name != "collection" && name != "$schema") {
            fault(Fault::Kind::field, key.span, "Unknown key " + quoted(name),
                  "A collection has the keys collection, defaults and puzzles");
        }
    }

    // The list
    // --------------------------------------------------------------------------------------------------

    /// Column of the list's dashes, when it is written with dashes.
    void note_list(std::size_t begin) {
        if (begin < text().size() && text()[begin] == '-') {
            m_list = begin - line_start(text(), begin);
        } else {
            m_list.reset();
        }
        m_item = begin;
        m_item_done = false;
    }

    void read_items(YamlStream& stream) {
        while (!m_full) {
            YamlEvent event = stream.next();
            if (event.kind == YamlEvent::Kind::none || event.kind == YamlEvent::Kind::sequence_end) {
                return;
            }
            m_item = event.span.begin;
            m_item_done = false;
            const std::optional<YamlNode> node = stream.node(std::move(event));
            if (!node) {
                return;
            }
            add_item(*node);
            m_item_done = true;
        }
    }

    void add_item(const YamlNode& node) {
        if (node.kind != YamlNode::Kind::mapping) {
            fault(Fault::Kind::syntax, node.span, "A puzzle must have keys",
                  "Write \"- id: ...\" and \"fen: ...\" below it");
            return;
        }
        m_full = !add_puzzle(m_document, yaml_puzzle(node));
    }

    // Going on after a fault
    // --------------------------------------------------------------------------------------

    std::size_t indentation(std::size_t line) const {
        std::size_t at = line;
        while (at < text().size() && text()[at] == ' ') {
            ++at;
        }
        return at - line;
    }

    /// Whether the list ends before this line: something stands further left, and it is no comment.
    bool leaves_list(std::size_t line) const {
        const std::size_t column = indentation(line);
        const std::size_t at = line + column;
        if (at == text().size() || is_blank(text()[at]) || text()[at] == '#') {
            return false;
        }
        return column < *m_list || (column == *m_list && !begins_item(line));
    }

    bool begins_item(std::size_t line) const {
        const std::size_t at = line + indentation(line);
        const bool dash = at < text().size() && text()[at] == '-';
        return dash && at - line == *m_list && (at + 1 == text().size() || is_blank(text()[at + 1]));
    }

    /// The next item from the line start `at` on, with the rest of its list; or what stands behind the list.
    std::optional<Stretch> next_item(std::size_t at) const {
        while (at < text().size() && !begins_item(at)) {
            if (leaves_list(at) && indentation(at) == 0 && is_letter(text()[at])) {
                return Stretch{Stretch::Shape::collection, {at, m_part.end}};
            }
            at = next_line(text(), at);
        }
        if (at >= text().size()) {
            return std::nullopt;
        }
        std::size_t end = next_line(text(), at);
        while (end < text().size() && !leaves_list(end)) {
            end = next_line(text(), end);
        }
        return Stretch{Stretch::Shape::items, {at, end}};
    }

    std::optional<Stretch> next_collection(std::size_t begin) const {
        for (std::size_t at = next_line(text(), begin); at < text().size(); at = next_line(text(), at)) {
            if (text().substr(at, 8) == "puzzles:") {
                return Stretch{Stretch::Shape::collection, {at, m_part.end}};
            }
        }
        return std::nullopt;
    }

    Document& m_document;
    Span m_part;
    std::size_t m_first_puzzle = m_document.puzzles.size();
    std::optional<YamlNode> m_defaults;
    std::optional<std::size_t> m_list; ///< column of the dashes of the list being read
    std::size_t m_item = 0;            ///< where the latest item begins
    bool m_item_done = false;          ///< it was read to its end
    bool m_full = false;
};

/// YAML forbids control characters; they are read as blanks.
void check_control_characters(Document& document, Span part) {
    if (!document.faults.empty()) {
        return; // said already
    }
    for (std::size_t at = part.begin; at < part.end; ++at) {
        const char c = document.bytes[at];
        if ((static_cast<unsigned char>(c) < 0x20 && c != '\t' && !is_line_end(c)) || c == '\x7f') {
            document.faults.push_back({Fault::Kind::encoding,
                                       {at, at + 1},
                                       "Control characters, which YAML does not allow",
                                       "Save the file as plain text in UTF-8"});
            return;
        }
    }
}

} // namespace

void read_yaml(Document& document, Span part) {
    check_control_characters(document, part);
    Reader(document, part).read();
}

} // namespace collection
