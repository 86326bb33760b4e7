#include "collection/builder.hpp"
#include "collection/readers.hpp"
#include "collection/text.hpp"
#include "collection/yaml_node.hpp"
#include "collection/yaml_puzzle.hpp"

#include <algorithm>
#include <set>

namespace collection {

namespace {

constexpr int max_broken = 1000; // puzzles; a file with more is not worth going on with
constexpr int max_restarts = 10; // of whole lists

std::size_t line_start(std::string_view text, std::size_t at) {
    while (at > 0 && !is_line_end(text[at - 1])) {
        --at;
    }
    return at;
}

/// The whole file at once while it is sound. Behind the first fault its puzzles are read one by one, so that
/// each fault spoils only the puzzle it stands in.
class YamlReader {
  public:
    YamlReader(Document& document, Span part) : m_document(document), m_part(part) {}

    void read() {
        std::size_t at = m_part.begin;
        for (int i = 0; at < m_part.end && !m_full && m_broken < max_broken && i < max_restarts; ++i) {
            at = read_collection_from(at);
        }
        if (m_broken == max_broken) {
            fault(Fault::Kind::limit, {m_item, m_item}, "Too many puzzles are broken; the rest was not read");
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

    /// Where another collection may begin behind a fault; the end when all is read.
    std::size_t read_collection_from(std::size_t at) {
        m_list.reset();
        YamlStream stream(m_document.bytes, {at, m_part.end});
        read_roots(stream, Root::collection);
        take_faults(stream);
        if (!stream.broken()) {
            return m_part.end;
        }
        if (!m_list) {
            broken(*stream.broken());
            return next_collection(at);
        }
        const std::size_t line = line_start(text(), m_item);
        return read_one_by_one(m_item_done ? next_line(text(), line) : line, *stream.broken());
    }

    /// `cause` counts unless the first of these puzzles shows it too, and better.
    std::size_t read_one_by_one(std::size_t at, const Fault& cause) {
        bool caused = false;
        at = next_item(at);
        while (at < m_part.end && begins_item(at) && !m_full && m_broken < max_broken) {
            const std::size_t next = next_item(next_line(text(), at));
            YamlStream stream(m_document.bytes, {at, next});
            m_item = at;
            read_roots(stream, Root::items);
            take_faults(stream);
            if (stream.broken() || !caused) {
                broken(stream.broken() ? *stream.broken() : cause);
            }
            caused = true;
            at = next;
        }
        if (!caused) {
            broken(cause);
        }
        return at;
    }

    void take_faults(YamlStream& stream) {
        for (Fault& found : stream.take_faults()) {
            add_fault(m_document.faults, std::move(found));
        }
    }

    void broken(const Fault& fault) {
        const auto& faults = m_document.faults;
        if (faults.empty() || faults.back().span != fault.span) { // met again from further down
            add_fault(m_document.faults, fault);
        }
        ++m_broken;
    }

    enum class Root : std::uint8_t { collection, items };

    void read_roots(YamlStream& stream, Root root) {
        while (!m_full) {
            YamlEvent event = stream.next();
            if (event.kind == YamlEvent::Kind::none || event.kind == YamlEvent::Kind::stream_end) {
                return;
            }
            if (root == Root::items && event.kind == YamlEvent::Kind::sequence_start) {
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
                fault(Fault::Kind::syntax, key->span, "The key " + in_quotes(name) + " stands twice",
                      "Keep one of them");
            }
            if (name == "puzzles" && value.kind == YamlEvent::Kind::sequence_start) {
                note_list(value.span.begin);
                read_items(stream);
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
        } else if (name == "collection") {
            take_title(value);
        } else if (name != "$schema") {
            fault(Fault::Kind::field, key.span, "Unknown key " + in_quotes(name),
                  "A collection has the keys collection, defaults and puzzles");
        }
    }

    void take_title(const YamlNode& value) {
        if (value.kind == YamlNode::Kind::scalar && !value.is_null() && !m_document.title) {
            m_document.title = Stated<std::string>{value.scalar.text, value.span};
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
        m_item_done = true;
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
        m_full = !add_puzzle(m_document, yaml_puzzle(node, m_defaults ? &*m_defaults : nullptr));
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

    bool begins_item(std::size_t line) const {
        const std::size_t at = line + indentation(line);
        const bool dash = at < text().size() && text()[at] == '-';
        return dash && at - line == *m_list && (at + 1 == text().size() || is_blank(text()[at + 1]));
    }

    /// The line of the next item, or of what stands at the left edge behind the list, or the end.
    std::size_t next_item(std::size_t at) const {
        while (at < text().size() && !begins_item(at) && !is_letter(text()[at])) {
            at = next_line(text(), at);
        }
        return at;
    }

    std::size_t next_collection(std::size_t at) const {
        do {
            at = next_line(text(), at);
        } while (at < text().size() && text().substr(at, 8) != "puzzles:");
        return at;
    }

    Document& m_document;
    Span m_part;
    std::size_t m_first_puzzle = m_document.puzzles.size();
    std::optional<YamlNode> m_defaults;
    std::optional<std::size_t> m_list; ///< column of the dashes of the list being read
    std::size_t m_item = 0;            ///< where the latest item begins
    bool m_item_done = false;          ///< it was read to its end
    int m_broken = 0;                  ///< puzzles and collections that could not be read
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
    YamlReader(document, part).read();
}

} // namespace collection
