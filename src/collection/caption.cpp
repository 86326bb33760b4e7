#include "collection/builder.hpp"
#include "collection/text.hpp"

#include <algorithm>
#include <array>

namespace collection {

namespace {

/// A range of the text that says whose turn it is.
struct Caption {
    board::Color color = board::Color::white;
    std::size_t begin = 0;
    std::size_t end = 0;
};

bool takes(std::string_view text, std::size_t& at, std::string_view word) {
    if (text.substr(std::min(at, text.size()), word.size()) != word) {
        return false;
    }
    at += word.size();
    return true;
}

bool takes_blanks(std::string_view text, std::size_t& at) {
    const std::size_t begin = at;
    while (at < text.size() && is_blank(text[at])) {
        ++at;
    }
    return at > begin;
}

/// The phrase begins the text or a clause: "with White to move it would be a draw" says nothing about the
/// diagram.
bool begins_clause(std::string_view text, std::size_t at) {
    while (at > 0 && (text[at - 1] == ' ' || text[at - 1] == '\t')) {
        --at;
    }
    return at == 0 || is_line_end(text[at - 1]) ||
           std::string_view(".,;:!?()[]-/\"").find(text[at - 1]) != std::string_view::npos;
}

/// What may follow without turning the phrase into a condition.
bool ends_plainly(std::string_view text, std::size_t at) {
    takes_blanks(text, at);
    if (at == text.size() || !is_letter(text[at])) {
        return true;
    }
    std::size_t end = at;
    while (end < text.size() && is_letter(text[end])) {
        ++end;
    }
    constexpr std::array<std::string_view, 15> harmless{"and",  "mate",  "mates", "win",    "wins",
                                                        "draw", "draws", "in",    "find",   "how",
                                                        "what", "which", "can",   "should", "must"};
    return std::find(harmless.begin(), harmless.end(), text.substr(at, end - at)) != harmless.end();
}

/// `text` in lower case.
std::optional<Caption> caption_at(std::string_view text, std::size_t begin) {
    std::size_t at = begin;
    Caption caption{board::Color::white, begin, begin};
    if (takes(text, at, "black")) {
        caption.color = board::Color::black;
    } else if (!takes(text, at, "white")) {
        return std::nullopt;
    }
    if (!takes_blanks(text, at) || !takes(text, at, "to") || !takes_blanks(text, at)) {
        return std::nullopt;
    }
    if (!takes(text, at, "move") && !takes(text, at, "play")) {
        return std::nullopt;
    }
    caption.end = at;
    const bool whole_word = at == text.size() || !is_letter(text[at]);
    return whole_word && begins_clause(text, begin) && ends_plainly(text, at) ? std::optional(caption)
                                                                              : std::nullopt;
}

} // namespace

void add_caption(Puzzle& puzzle, const Source& source) {
    const std::string text = lower(source.text());
    std::optional<Caption> found;
    for (std::size_t at = find_any(text, "wb", 0); at < text.size(); at = find_any(text, "wb", at + 1)) {
        const std::optional<Caption> caption = caption_at(text, at);
        if (caption && found && caption->color != found->color) {
            return; // says both: no plain statement
        }
        found = found ? found : caption;
    }
    if (found) {
        puzzle.sides.push_back(
            {found->color, SideStatement::Source::caption, source.span(found->begin, found->end)});
    }
}

} // namespace collection
