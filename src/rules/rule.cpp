#include "rules/rule.hpp"

#include "rules/check.hpp"
#include "rules/identity.hpp"

#include <algorithm>
#include <cassert>

namespace rules {

namespace {

/// "{move} also wins" with {move} filled; a name nobody gave stays as it is, which the tests refuse.
std::string filled(std::string_view text, Arguments arguments) {
    std::string result;
    while (!text.empty()) {
        const std::size_t open = text.find('{');
        const std::size_t close = text.find('}', open);
        if (open == std::string_view::npos || close == std::string_view::npos) {
            break;
        }
        result += text.substr(0, open);
        const std::string_view wanted = text.substr(open + 1, close - open - 1);
        const auto* const found = std::find_if(arguments.begin(), arguments.end(), [&](const auto& argument) {
            return argument.first == wanted;
        });
        result += found == arguments.end() ? std::string(text.substr(open, close - open + 1)) : found->second;
        text.remove_prefix(close + 1);
    }
    return result.append(text);
}

/// The line, or of a long one what stands around the place.
void cut_excerpt(const collection::Document& document, Finding& finding) {
    constexpr std::size_t longest = 200;
    constexpr std::size_t before = 80; // bytes shown in front of the place
    const std::string_view text = document.bytes;
    const std::string_view line = document.lines.line(text, finding.begin.line);
    if (line.size() <= longest) {
        finding.excerpt = line;
        return;
    }
    const auto start = static_cast<std::size_t>(line.data() - text.data());
    const std::size_t place = std::min(finding.span.begin, start + line.size()) - start;
    std::size_t from = std::min(place - std::min(place, before), line.size() - longest);
    while (from > 0 && (static_cast<unsigned char>(line[from]) & 0xC0U) == 0x80) {
        --from; // not within a character
    }
    finding.excerpt = line.substr(from, longest);
    finding.excerpt_column = document.place(start + from).column;
}

} // namespace

std::string identity_of(const collection::Document& document, const collection::Puzzle& puzzle) {
    return puzzle.id_stated || puzzle.fen.value.empty() ? puzzle.id.value
                                                        : document.path + " " + puzzle.fen.value;
}

std::uint64_t stable_hash(std::string_view text, std::uint64_t before) {
    std::uint64_t hash = before;
    for (const char c : text) {
        hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3;
    }
    return hash;
}

void place(Finding& finding, const collection::Document& document, collection::Span span) {
    finding.file = document.path;
    finding.span = span;
    finding.begin = document.place(span.begin);
    finding.end = document.place(std::max(span.begin, span.end));
    cut_excerpt(document, finding);
}

Findings::Findings(const RuleEntry& rule, Severity severity, bool severity_configured,
                   std::vector<Finding>& into)
    : m_rule(rule), m_severity(severity), m_severity_configured(severity_configured), m_into(into) {}

Finding& Findings::add(const collection::Document& document, collection::Span span,
                       std::string_view message_id, Arguments arguments) {
    const Message* const message = m_rule.message(message_id);
    assert(message != nullptr);
    Finding finding;
    finding.rule = m_rule.id;
    finding.message_id = message_id;
    finding.severity = m_severity;
    if (message != nullptr) {
        finding.message = filled(message->text, arguments);
        if (message->severity && !m_severity_configured) {
            finding.severity = *message->severity;
        }
    }
    place(finding, document, span);
    m_into.push_back(std::move(finding));
    return m_into.back();
}

Finding& Findings::add(const collection::Document& document, const collection::Puzzle& puzzle,
                       collection::Span span, std::string_view message_id, Arguments arguments) {
    Finding& finding = add(document, span, message_id, arguments);
    finding.puzzle = puzzle.id.value;
    finding.fingerprint =
        identity_of(document, puzzle); // settled into a fingerprint once the subject is known
    return finding;
}

Finding& Findings::add(const PuzzleView& view, collection::Span span, std::string_view message_id,
                       Arguments arguments) {
    return add(view.document(), view.puzzle(), span, message_id, arguments);
}

} // namespace rules
