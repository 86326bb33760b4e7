#include "collection/edit.hpp"

#include "collection/text.hpp"

#include <algorithm>

namespace collection {
namespace {

/// Printable, and of the document's own encoding: what is no ASCII needs UTF-8 around it.
bool can_stand_in(const Document& document, std::string_view text) {
    const auto byte = [](char c) { return static_cast<unsigned char>(c); };
    const bool printable =
        std::all_of(text.begin(), text.end(), [&](char c) { return byte(c) >= 0x20 && byte(c) != 0x7f; });
    const bool ascii = std::all_of(text.begin(), text.end(), [&](char c) { return byte(c) < 0x80; });
    return printable && (ascii || (is_utf8(text) && is_utf8(document.bytes)));
}

} // namespace

std::optional<Edit> replacing(const Document& document, const Puzzle& puzzle, Span span, std::string_view old,
                              std::string_view text) {
    const bool inside =
        puzzle.span.begin <= span.begin && span.begin < span.end && span.end <= puzzle.span.end;
    if (!inside || old.empty() || !can_stand_in(document, text)) {
        return std::nullopt;
    }
    switch (document.format) {
    case Format::pgn:
        return replacing_in_pgn(document, puzzle, span, old, text);
    case Format::epd:
        return replacing_in_epd(document, span, old, text);
    case Format::table:
        return replacing_in_table(document, puzzle, span, old, text);
    case Format::yaml:
        return replacing_in_yaml(document, puzzle, span, old, text);
    case Format::none:
        break;
    }
    return std::nullopt;
}

std::string edited(std::string_view bytes, std::span<const Edit> edits) {
    std::string result;
    std::size_t at = 0;
    for (const Edit& edit : edits) {
        result.append(bytes.substr(at, edit.span.begin - at)).append(edit.bytes);
        at = edit.span.end;
    }
    return result.append(bytes.substr(at));
}

} // namespace collection
