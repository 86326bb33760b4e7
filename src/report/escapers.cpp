#include "report/escapers.hpp"

#include "collection/text.hpp"
#include "report/report.hpp"
#include "report/utf8.hpp"

#include <fmt/format.h>

namespace report {
namespace {

/// Calls `each` with every code point and the one before it.
template <class Each> void for_each_code_point(std::string_view text, Each each) {
    char32_t before = 0;
    while (!text.empty()) {
        const CodePoint c = first_code_point(text);
        each(c.value, before);
        before = c.value;
        text.remove_prefix(c.size);
    }
}

void append_reference(std::string& into, char32_t c) {
    into += fmt::format("&#{};", static_cast<std::uint32_t>(c));
}

/// What XML 1.0 (section 2.2) has no way to write.
bool forbidden_in_xml(char32_t c) {
    return (c < 0x20 && c != '\t' && c != '\n' && c != '\r') || c == 0xFFFE || c == 0xFFFF;
}

bool is_markup(char32_t c) {
    return c == '&' || c == '<' || c == '>' || c == '"' || c == '\'';
}

/// CI runners read logs, and these begin a command: "##[", "::". Never two of them side by side.
bool doubles_a_mark(char32_t c, char32_t before) {
    return c == before && (c == '#' || c == ':');
}

bool is_letter(char32_t c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

bool is_letter_or_digit(char32_t c) {
    return (c >= '0' && c <= '9') || is_letter(c);
}

/// ASCII that means nothing to Markdown within a line; "www." and "http:" would begin a link.
bool is_plain_in_markdown(char32_t c, char32_t before) {
    constexpr std::string_view plain = " .,;:=+-/()?'\"";
    if ((c == '.' && (before == 'w' || before == 'W')) || (c == ':' && is_letter(before))) {
        return false;
    }
    return is_letter_or_digit(c) || (c < 0x80 && plain.find(static_cast<char>(c)) != std::string_view::npos);
}

std::string percent_encoded(std::string_view text, std::string_view reserved) {
    std::string encoded;
    encoded.reserve(text.size());
    for (const char c : text) {
        if (reserved.find(c) == std::string_view::npos) {
            encoded += c;
        } else {
            encoded += fmt::format("%{:02X}", static_cast<unsigned>(c));
        }
    }
    return encoded;
}

} // namespace

void Xml::escape(Untrusted text, std::string& into) {
    for_each_code_point(text.bytes(), [&](char32_t c, char32_t before) {
        if (forbidden_in_xml(c)) {
            collection::append_utf8(into, 0xFFFD);
        } else if (is_markup(c) || acts_on_a_terminal(c) || doubles_a_mark(c, before)) {
            append_reference(into, c);
        } else {
            collection::append_utf8(into, c);
        }
    });
}

void Html::escape(Untrusted text, std::string& into) {
    for_each_code_point(text.bytes(), [&](char32_t c, char32_t before) {
        if (acts_on_a_terminal(c)) {
            into += fmt::format("\\u{{{:x}}}", static_cast<std::uint32_t>(c));
        } else if (is_markup(c) || doubles_a_mark(c, before)) {
            append_reference(into, c);
        } else {
            collection::append_utf8(into, c);
        }
    });
}

void Markdown::escape(Untrusted text, std::string& into) {
    constexpr std::string_view word_joiner = "&#8288;"; // parts "@name" and "#123", and is not seen
    for_each_code_point(text.bytes(), [&](char32_t c, char32_t before) {
        if (c == '\n' || c == '\r' || c == '\t') {
            into += ' ';
        } else if (acts_on_a_terminal(c)) {
            into += fmt::format("\\u&#123;{:x}&#125;", static_cast<std::uint32_t>(c));
        } else {
            into += (before == '@' || before == '#') && is_letter_or_digit(c) ? word_joiner : "";
            const bool as_it_is =
                c >= 0x80 || (is_plain_in_markdown(c, before) && !doubles_a_mark(c, before));
            as_it_is ? collection::append_utf8(into, c) : append_reference(into, c);
        }
    });
}

// The runner's own parser undoes exactly these (actions/runner, ActionCommand.cs).
void Command::escape(Untrusted text, std::string& into) {
    into += percent_encoded(harmless(text.bytes()), "%\r\n");
}

void Command::escape(Property property, std::string& into) {
    into += percent_encoded(harmless(property.text.bytes()), "%\r\n:,");
}

} // namespace report
