#include "collection/text.hpp"
#include "report/escapers.hpp"
#include "report/report.hpp"
#include "report/utf8.hpp"

#include <fmt/format.h>

#include <array>

namespace report {
namespace {

/// Marks that CI runners obey wherever they stand in a log; broken by a blank behind `keep` bytes.
struct Mark {
    std::string_view text;
    std::size_t keep;
};
constexpr std::array marks{Mark{"##[", 1}, Mark{"##vso[", 1}, Mark{"section_start:", 13},
                           Mark{"section_end:", 11}};

void break_marks(std::string& text) {
    for (const Mark mark : marks) {
        for (std::size_t at = text.find(mark.text); at != std::string::npos; at = text.find(mark.text, at)) {
            text.insert(at + mark.keep, 1, ' ');
            at += mark.keep;
        }
    }
    // "::error ..." is obeyed at the start of a line only, leading blanks allowed.
    const std::size_t start = text.find_first_not_of(' ');
    if (start != std::string::npos && text.compare(start, 2, "::") == 0) {
        text.insert(start + 1, 1, ' ');
    }
}

} // namespace

bool acts_on_a_terminal(char32_t c) {
    return c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0x061C || c == 0x200E || c == 0x200F ||
           (c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069) || c == 0xFEFF ||
           (c >= 0xE0000 && c <= 0xE007F);
}

std::string harmless(std::string_view untrusted) {
    std::string text;
    text.reserve(untrusted.size());
    while (!untrusted.empty()) {
        const CodePoint c = first_code_point(untrusted);
        if (acts_on_a_terminal(c.value)) {
            text += fmt::format("\\u{{{:x}}}", static_cast<std::uint32_t>(c.value));
        } else {
            collection::append_utf8(text, c.value);
        }
        untrusted.remove_prefix(c.size);
    }
    break_marks(text);
    return text;
}

void Plain::escape(Untrusted text, std::string& into) {
    into += harmless(text.bytes());
}

} // namespace report
