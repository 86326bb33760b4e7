// Writing into a scalar of a collection file, in the form it has.
#include "collection/edit.hpp"
#include "collection/text.hpp"
#include "collection/yaml_node.hpp"

#include <algorithm>

namespace collection {
namespace {

/// The scalar that holds `span`. Nodes are few and nested a few deep (YamlStream's bounds).
const YamlNode* scalar_at(const YamlNode& node, Span span) {
    if (node.kind == YamlNode::Kind::scalar) {
        const Span whole = node.scalar.span;
        return whole.begin <= span.begin && span.end <= whole.end ? &node : nullptr;
    }
    for (const YamlNode& item : node.items) {
        if (const YamlNode* const found = scalar_at(item, span)) {
            return found;
        }
    }
    return nullptr;
}

/// A block mapping is read from the start of its line, so that its keys stand in one column.
Span stretch_of(std::string_view bytes, Span puzzle) {
    if (bytes[puzzle.begin] != '{') {
        while (puzzle.begin > 0 && !is_line_end(bytes[puzzle.begin - 1])) {
            --puzzle.begin;
        }
    }
    return puzzle;
}

/// Reads the same without quotes, in a block and in a flow list. Stricter than YAML has it.
bool is_plain(std::string_view text) {
    constexpr std::string_view indicators = "-?:,[]{}#&*!|>'\"%@`~ ";
    return !text.empty() && indicators.find(text.front()) == std::string_view::npos && text.back() != ' ' &&
           text.back() != ':' && text.find_first_of(",[]{}") == std::string_view::npos &&
           text.find(": ") == std::string_view::npos && text.find(" #") == std::string_view::npos &&
           text != "null";
}

std::optional<Edit> edit_of(std::string_view bytes, const YamlNode& node, Span span, std::size_t at,
                            std::string_view old, std::string_view text) {
    const char first = bytes[node.scalar.span.begin];
    if (first == '!') {
        return std::nullopt; // behind a YAML tag the form does not show
    }
    if (!node.plain) {
        return Edit{span, first == '"'    ? escaped(text)
                          : first == '\'' ? doubled(text, '\'')
                                          : std::string(text)};
    }
    std::string whole = node.scalar.text;
    const bool as_it_stands = bytes.substr(node.scalar.span.begin, whole.size()) == whole;
    whole.replace(at, old.size(), text);
    if (is_plain(whole)) {
        return Edit{span, std::string(text)};
    }
    return as_it_stands ? std::optional(Edit{node.scalar.span, '"' + escaped(whole) + '"'}) : std::nullopt;
}

} // namespace

std::optional<Edit> replacing_in_yaml(const Document& document, const Puzzle& puzzle, Span span,
                                      std::string_view old, std::string_view text) {
    YamlStream stream(document.bytes, stretch_of(document.bytes, puzzle.span));
    const std::optional<YamlNode> root = stream.node(stream.next());
    const YamlNode* const node = root ? scalar_at(*root, span) : nullptr;
    const auto at = node == nullptr ? std::nullopt : place_of(Source(node->scalar), span, old);
    return at ? edit_of(document.bytes, *node, span, *at, old, text) : std::nullopt;
}

} // namespace collection
