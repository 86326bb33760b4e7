#include "collection/yaml_node.hpp"

#include "collection/movetext.hpp"
#include "collection/text.hpp"
#include "collection/yaml_scalar.hpp"

#include <algorithm>
#include <utility>

#include <yaml.h>

namespace collection {

namespace {

constexpr int max_depth = 16;             // of one puzzle; libyaml grows slow in deep nesting
constexpr std::size_t max_nodes = 20'000; // of one puzzle

/// libyaml refuses some characters and all broken bytes; this is what it gets instead, a character for a
/// character.
std::string readable_copy(std::string_view text) {
    std::string copy;
    copy.reserve(text.size() + text.size() / 8);
    for (std::size_t at = 0; at < text.size();) {
        const Character c = character_at(text, at);
        append_utf8(copy, yaml_code(c));
        at += c.length;
    }
    return copy;
}

bool is_readable(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const Character c = character_at(text, at);
        if (c.broken || yaml_code(c) != c.code) {
            return false;
        }
        at += c.length;
    }
    return true;
}

ScalarStyle style_of(yaml_scalar_style_t style) {
    switch (style) {
    case YAML_SINGLE_QUOTED_SCALAR_STYLE:
        return ScalarStyle::single_quoted;
    case YAML_DOUBLE_QUOTED_SCALAR_STYLE:
        return ScalarStyle::double_quoted;
    case YAML_LITERAL_SCALAR_STYLE:
    case YAML_FOLDED_SCALAR_STYLE:
        return ScalarStyle::block;
    default:
        return ScalarStyle::plain;
    }
}

} // namespace

bool YamlNode::is_null() const {
    return kind == Kind::scalar && plain &&
           (scalar.text.empty() || scalar.text == "~" || scalar.text == "null");
}

struct YamlStream::Parser {
    yaml_parser_t parser{};
    yaml_event_t event{};
    bool ready = false;

    explicit Parser(std::string_view text) : ready(yaml_parser_initialize(&parser) != 0) {
        if (ready) {
            yaml_parser_set_encoding(&parser, YAML_UTF8_ENCODING);
            yaml_parser_set_input_string(&parser, reinterpret_cast<const unsigned char*>(text.data()),
                                         text.size());
        }
    }
    ~Parser() {
        if (ready) {
            yaml_event_delete(&event);
            yaml_parser_delete(&parser);
        }
    }
    Parser(const Parser&) = delete;
    Parser& operator=(const Parser&) = delete;

    bool advance() {
        yaml_event_delete(&event);
        return ready && yaml_parser_parse(&parser, &event) != 0;
    }

    [[nodiscard]] bool anchored() const {
        switch (event.type) {
        case YAML_ALIAS_EVENT:
            return true;
        case YAML_SCALAR_EVENT:
            return event.data.scalar.anchor != nullptr;
        case YAML_SEQUENCE_START_EVENT:
            return event.data.sequence_start.anchor != nullptr;
        case YAML_MAPPING_START_EVENT:
            return event.data.mapping_start.anchor != nullptr;
        default:
            return false;
        }
    }

    [[nodiscard]] std::string problem() const {
        if (!ready || parser.error == YAML_MEMORY_ERROR || parser.problem == nullptr) {
            return "This YAML cannot be read";
        }
        const std::string context =
            parser.context == nullptr ? std::string() : std::string(" ") + parser.context;
        return std::string("No YAML: ") + parser.problem + context;
    }
};

YamlStream::YamlStream(std::string_view document, Span part)
    : m_document(document.substr(0, part.end)), m_part(part), m_offset(part.begin) {
    const std::string_view text = m_document.substr(part.begin);
    m_single_bytes =
        std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
    if (is_readable(text)) {
        m_parser = std::make_unique<Parser>(text);
    } else {
        m_copy = readable_copy(text);
        m_parser = std::make_unique<Parser>(m_copy);
    }
}

YamlStream::~YamlStream() = default;

std::vector<Fault> YamlStream::take_faults() {
    return std::exchange(m_faults, {});
}

void YamlStream::stop(Fault fault) {
    if (!m_broken) {
        m_broken = std::move(fault);
    }
}

/// libyaml counts characters; a broken byte is one, as it is in the copy.
std::size_t YamlStream::offset(std::size_t index) {
    if (m_single_bytes) {
        return std::min(m_part.begin + index, m_part.end);
    }
    while (m_index < index && m_offset < m_part.end) {
        m_offset += character_at(m_document, m_offset).length;
        ++m_index;
    }
    while (m_index > index) {
        std::size_t length = 1;
        for (std::size_t back = 2; back <= 4 && back <= m_offset - m_part.begin; ++back) {
            const Character c = character_at(m_document, m_offset - back);
            length = !c.broken && c.length == back ? back : length;
        }
        m_offset -= length;
        --m_index;
    }
    return m_offset;
}

void YamlStream::refuse_anchor() {
    const std::size_t begin = offset(m_parser->event.start_mark.index);
    add_fault(m_faults, {Fault::Kind::syntax,
                         {begin, std::min(begin + 1, m_part.end)},
                         "Anchors and aliases are not followed in a collection",
                         "Write the value out"});
}

void YamlStream::read_scalar(YamlEvent& event) {
    const auto& scalar = m_parser->event.data.scalar;
    const std::string_view value(reinterpret_cast<const char*>(scalar.value), scalar.length);
    event.plain = scalar.style == YAML_PLAIN_SCALAR_STYLE;
    event.scalar = align_scalar(m_document, event.span, value, style_of(scalar.style));
}

YamlEvent::Kind YamlStream::read_event(YamlEvent& event) {
    switch (m_parser->event.type) {
    case YAML_ALIAS_EVENT:
        event.plain = true;
        event.scalar.span = event.span;
        return YamlEvent::Kind::scalar;
    case YAML_SCALAR_EVENT:
        read_scalar(event);
        return YamlEvent::Kind::scalar;
    case YAML_SEQUENCE_START_EVENT:
        return YamlEvent::Kind::sequence_start;
    case YAML_SEQUENCE_END_EVENT:
        return YamlEvent::Kind::sequence_end;
    case YAML_MAPPING_START_EVENT:
        return YamlEvent::Kind::mapping_start;
    case YAML_MAPPING_END_EVENT:
        return YamlEvent::Kind::mapping_end;
    case YAML_STREAM_END_EVENT:
        return YamlEvent::Kind::stream_end;
    default:
        return YamlEvent::Kind::none;
    }
}

/// Where something was left open when the text ends in it, else where the text went wrong.
Fault YamlStream::problem() {
    const yaml_parser_t& parser = m_parser->parser;
    std::size_t begin = offset(parser.problem_mark.index);
    if (parser.context != nullptr && trim(m_document.substr(begin)).empty()) {
        begin = offset(parser.context_mark.index);
    }
    return {Fault::Kind::syntax, {begin, line_end(m_document, begin)}, m_parser->problem(), {}};
}

YamlEvent YamlStream::next() {
    YamlEvent event;
    while (!m_broken && event.kind == YamlEvent::Kind::none) {
        if (!m_parser->advance()) {
            stop(problem());
            break;
        }
        if (m_parser->anchored()) {
            refuse_anchor();
        }
        const std::size_t begin = offset(m_parser->event.start_mark.index);
        event.span = {begin, std::max(begin, offset(m_parser->event.end_mark.index))};
        event.kind = read_event(event);
    }
    return event;
}

std::optional<YamlNode> YamlStream::node(YamlEvent first) {
    struct Open {
        YamlNode node;
        YamlEvent::Kind end;
    };
    std::vector<Open> open;
    std::size_t nodes = 0;
    for (YamlEvent event = std::move(first);; event = next()) {
        YamlNode done;
        done.span = event.span;
        if (event.kind == YamlEvent::Kind::sequence_start || event.kind == YamlEvent::Kind::mapping_start) {
            const bool sequence = event.kind == YamlEvent::Kind::sequence_start;
            done.kind = sequence ? YamlNode::Kind::sequence : YamlNode::Kind::mapping;
            open.push_back(
                {std::move(done), sequence ? YamlEvent::Kind::sequence_end : YamlEvent::Kind::mapping_end});
            if (open.size() > max_depth) {
                stop({Fault::Kind::limit,
                      event.span,
                      "Nested more than " + std::to_string(max_depth) + " deep; not read",
                      {}});
                return std::nullopt;
            }
            continue;
        }
        if (event.kind == YamlEvent::Kind::scalar) {
            done.plain = event.plain;
            done.scalar = std::move(event.scalar);
        } else if (!open.empty() && event.kind == open.back().end) {
            done = std::move(open.back().node);
            open.pop_back();
            const bool flow =
                event.span.end > event.span.begin; // a block's end is where the next thing begins
            done.span.end = flow                 ? event.span.end
                            : done.items.empty() ? done.span.end
                                                 : done.items.back().span.end;
        } else {
            return std::nullopt;
        }
        if (++nodes > max_nodes) {
            stop({Fault::Kind::limit,
                  done.span,
                  "More than " + std::to_string(max_nodes) + " values; not read",
                  {}});
            return std::nullopt;
        }
        if (open.empty()) {
            return done;
        }
        open.back().node.items.push_back(std::move(done));
    }
}

} // namespace collection
