#include "collection/builder.hpp"
#include "collection/edit.hpp"
#include "collection/readers.hpp"
#include "collection/text.hpp"

#include <algorithm>
#include <array>

namespace collection {

namespace {

constexpr std::size_t max_tags = 100; // a game; each is compared with the others

struct Tag {
    std::string_view name;
    Span value; ///< between the quotes
    bool escaped = false;
};

bool is_name(char c) {
    return is_letter(c) || is_digit(c) || c == '_';
}

/// Where the name ends when a tag opens at `at`: "[Name" and a blank. "[%csl" is none.
std::size_t name_end(std::string_view text, std::size_t at) {
    std::size_t end = at + 1;
    while (end < text.size() && is_name(text[end])) {
        ++end;
    }
    const bool named = end > at + 1 && is_letter(text[at + 1]) && end < text.size();
    return named && (text[end] == ' ' || text[end] == '\t' || text[end] == '"') ? end : at;
}

/// A tag with its quote, as it must look in the midst of movetext to end the game.
bool is_tag(std::string_view text, std::size_t at) {
    const std::size_t end = name_end(text, at);
    if (end == at) {
        return false;
    }
    const std::size_t value = text.find_first_not_of(" \t", end);
    return value < text.size() && text[value] == '"';
}

/// Whether only blanks stand before `at` on its line.
bool begins_line(std::string_view text, std::size_t begin, std::size_t at) {
    while (at > begin && (text[at - 1] == ' ' || text[at - 1] == '\t')) {
        --at;
    }
    return at == begin || is_line_end(text[at - 1]);
}

/// Tags that open a game: a comment that runs into one was never closed.
bool opens_game(std::string_view text, std::size_t at) {
    const std::string_view name = text.substr(at + 1, name_end(text, at) - at - 1);
    return is_tag(text, at) && (name == "Event" || name == "FEN");
}

class PgnReader {
  public:
    PgnReader(Document& document, Span part, const TagMapping& mapping)
        : m_document(document), m_text(std::string_view(document.bytes).substr(0, part.end)),
          m_begin(part.begin), m_at(part.begin), m_mapping(mapping) {}

    void read() {
        while (!m_full && skip_to_game()) {
            read_game();
        }
    }

  private:
    bool skip_to_game() {
        while (m_at < m_text.size() && is_blank(m_text[m_at])) {
            ++m_at;
        }
        return m_at < m_text.size();
    }

    void read_game() {
        const std::size_t begin = m_at;
        m_tags.clear();
        m_faults.clear();
        while (m_at < m_text.size() && at_tag() && !(begin != m_at && repeats_after_gap())) {
            read_tag();
            m_tags_end = m_at;
            skip_blanks_and_escapes();
        }
        const std::size_t movetext = m_at;
        m_at = game_end(m_at);
        const auto [first, last] = trimmed(m_text.substr(movetext, m_at - movetext));
        const Tag* const fen = tag("FEN");
        if (fen != nullptr && !is_initial_array(*fen)) {
            const std::size_t end = first == last ? m_tags_end : movetext + last;
            build({begin, end}, *fen, {movetext + first, movetext + last});
        }
    }

    // Tags
    // ------------------------------------------------------------------------------------------------------

    bool at_tag() const { return m_text[m_at] == '[' && name_end(m_text, m_at) != m_at; }

    /// A game without result and moves is followed by the next one's tags.
    bool repeats_after_gap() {
        const std::string_view between = m_text.substr(m_tags_end, m_at - m_tags_end);
        const std::size_t line = next_line(between, 0);
        if (line_end(between, line) == between.size()) {
            return false;
        }
        const std::string_view name = m_text.substr(m_at + 1, name_end(m_text, m_at) - m_at - 1);
        return tag(name) != nullptr || (tag("FEN") != nullptr && equals_ignoring_case(name, "Event"));
    }

    void skip_blanks_and_escapes() {
        while (m_at < m_text.size()) {
            if (is_blank(m_text[m_at])) {
                ++m_at;
            } else if (m_text[m_at] == '%' && is_line_end(m_text[m_at - 1])) {
                m_at = line_end(m_text, m_at);
            } else {
                return;
            }
        }
    }

    const Tag* tag(std::string_view name) const {
        const auto found = std::find_if(m_tags.begin(), m_tags.end(), [name](const Tag& tag) {
            return equals_ignoring_case(tag.name, name);
        });
        return found == m_tags.end() ? nullptr : &*found;
    }

    void fault(std::size_t begin, std::size_t end, std::string what, std::string cure) {
        add_fault(m_faults, {Fault::Kind::syntax, {begin, end}, std::move(what), std::move(cure)});
    }

    void read_tag() {
        const std::size_t named = name_end(m_text, m_at);
        m_line_end =
            m_at < m_line_end ? m_line_end : line_end(m_text, m_at); // many tags may share a long line
        const std::size_t line = m_line_end;
        const std::size_t value = std::min(m_text.find_first_not_of(" \t", named), line);
        Tag tag{m_text.substr(m_at + 1, named - m_at - 1), {value, value}};
        if (value == line || m_text[value] != '"') {
            tag.value.end = find_any(m_text.substr(0, line), "]", value);
            fault(m_at, line, "The tag's value is not in quotes",
                  "Write [" + std::string(tag.name) + " \"...\"]");
            m_at = std::min(tag.value.end + 1, line);
        } else {
            read_quoted(tag, value + 1, line);
        }
        if (m_tags.size() < max_tags) {
            m_tags.push_back(tag);
        } else {
            add_fault(m_faults, {Fault::Kind::limit,
                                 tag.value,
                                 "More than " + std::to_string(max_tags) + " tags; the rest was not read",
                                 {}});
        }
    }

    /// A value never runs over its line's end, so that a lost quote spoils one tag and not the file.
    void read_quoted(Tag& tag, std::size_t begin, std::size_t line) {
        const std::size_t open = m_at;
        std::size_t end = begin;
        while (end < line && m_text[end] != '"') {
            const bool escape =
                m_text[end] == '\\' && end + 1 < line && (m_text[end + 1] == '"' || m_text[end + 1] == '\\');
            tag.escaped |= escape;
            end += escape ? 2 : 1;
        }
        std::size_t close = std::min(m_text.find_first_not_of(" \t", std::min(end + 1, line)), line);
        if (end < line && close < line && m_text[close] == ']') {
            tag.value = {begin, end};
            m_at = close + 1;
            return;
        }
        // The value ends at the last quote of the line after all.
        const std::string_view rest = m_text.substr(begin, line - begin);
        const std::size_t last = rest.rfind('"');
        const std::size_t bracket = rest.rfind(']');
        tag.escaped = false;
        tag.value = {begin, begin + std::min({last, bracket, rest.size()})};
        m_at = bracket == std::string_view::npos ? line : begin + bracket + 1;
        fault(open, m_at, "The tag's value has quotes that do not pair, or the tag is not closed",
              "Write \\\" for a quote and \\\\ for a backslash inside the value");
    }

    // Movetext
    // --------------------------------------------------------------------------------------------------

    /// Up to the next game's first tag. Comments are skipped, but for one that runs into the next game.
    std::size_t game_end(std::size_t at) const {
        while (at < m_text.size()) {
            at = find_any(m_text, "{;%[", at);
            if (at == m_text.size()) {
                break;
            }
            const char c = m_text[at];
            if (c == '[' &&
                (is_tag(m_text, at) || (name_end(m_text, at) != at && begins_line(m_text, m_begin, at)))) {
                return at;
            }
            if (c == '{') {
                at = comment_end(at + 1);
            } else if (c == ';' || (c == '%' && (at == m_begin || is_line_end(m_text[at - 1])))) {
                at = line_end(m_text, at);
            } else {
                ++at;
            }
        }
        return at;
    }

    /// Behind the closing brace, or the first tag of the next game.
    std::size_t comment_end(std::size_t at) const {
        while (at < m_text.size()) {
            at = find_any(m_text, "}[", at);
            if (at == m_text.size() || m_text[at] == '}') {
                return std::min(at + 1, m_text.size());
            }
            if (opens_game(m_text, at) && begins_line(m_text, m_begin, at)) {
                return at;
            }
            ++at;
        }
        return at;
    }

    // Puzzle
    // ----------------------------------------------------------------------------------------------------

    bool is_initial_array(const Tag& fen) const {
        constexpr std::string_view array = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq";
        return trim(m_text.substr(fen.value.begin, fen.value.end - fen.value.begin))
                   .substr(0, array.size()) == array;
    }

    Source source(const Tag& tag) {
        if (!tag.escaped) {
            return Source(m_document.bytes, tag.value);
        }
        MappedText& mapped = m_unescaped.emplace_back();
        mapped.span = tag.value;
        for (std::size_t at = tag.value.begin; at < tag.value.end; ++at) {
            const char next = at + 1 < tag.value.end ? m_text[at + 1] : '\0';
            if (m_text[at] == '\\' && (next == '"' || next == '\\')) {
                ++at;
            }
            mapped.append(m_text.substr(at, 1), at);
        }
        return Source(mapped);
    }

    void build(Span span, const Tag& fen, Span movetext) {
        Puzzle puzzle;
        puzzle.span = span;
        m_unescaped.clear();
        m_unescaped.reserve(m_tags.size()); // sources point into it
        for (Fault& fault : m_faults) {
            add_fault(puzzle.faults, std::move(fault));
        }
        set_fen(puzzle, source(fen));
        if (const Tag* const variant = tag("Variant")) {
            set_variant(puzzle, source(*variant));
        }
        set_solution(puzzle, Source(m_document.bytes, movetext));
        for (const Tag& tag : m_tags) {
            if (&tag != &fen) {
                take(puzzle, tag);
            }
        }
        m_full = !add_puzzle(m_document, std::move(puzzle));
    }

    bool is(const Tag& tag, std::string_view usual, const std::string& mapped) const {
        return equals_ignoring_case(tag.name, usual) || (!mapped.empty() && tag.name == mapped);
    }

    void take(Puzzle& puzzle, const Tag& tag) {
        const Source value = source(tag);
        if (this->tag(tag.name) != &tag) {
            add_fault(puzzle, Fault::Kind::syntax, value.span(),
                      "The tag " + std::string(tag.name) + " stands twice", "Keep one of them");
        } else if (is(tag, "PuzzleId", m_mapping.id)) {
            take_id(puzzle, tag, value);
        } else if (!m_mapping.key.empty() && tag.name == m_mapping.key) {
            set_keys(puzzle, without_prefix(value));
        } else if (is(tag, "Goal", m_mapping.goal)) {
            set_goal(puzzle, value);
        } else if (is(tag, "Themes", m_mapping.themes)) {
            add_themes(puzzle, value);
        } else if (equals_ignoring_case(tag.name, "Accept")) {
            add_accepted(puzzle, value);
        } else if (equals_ignoring_case(tag.name, "Allow")) {
            add_allowances(puzzle, value);
        } else {
            add_field(puzzle, std::string(tag.name), value);
            if (equals_ignoring_case(tag.name, "Event")) {
                add_caption(puzzle, value);
            }
        }
    }

    /// PuzzleId goes before the tag that stands in for it.
    void take_id(Puzzle& puzzle, const Tag& tag, const Source& value) {
        const bool own = equals_ignoring_case(tag.name, "PuzzleId");
        if (own || this->tag("PuzzleId") == nullptr) {
            set_id(puzzle, value);
        } else {
            add_field(puzzle, std::string(tag.name), value);
        }
    }

    Source without_prefix(const Source& value) const {
        const Source inner = value.trimmed();
        const std::string& prefix = m_mapping.key_prefix;
        const bool has = !prefix.empty() && inner.text().substr(0, prefix.size()) == prefix;
        return has ? inner.part(prefix.size(), inner.text().size()) : inner;
    }

    Document& m_document;
    std::string_view m_text; ///< the document up to the part's end, so that offsets are the document's
    std::size_t m_begin;
    std::size_t m_at;
    std::size_t m_line_end = 0; ///< of the line of the latest tag
    const TagMapping& m_mapping;
    std::vector<Tag> m_tags;
    std::size_t m_tags_end = 0;
    std::vector<Fault> m_faults;
    std::vector<MappedText> m_unescaped;
    bool m_full = false;
};

} // namespace

void read_pgn(Document& document, Span part, const TagMapping& tags) {
    PgnReader(document, part, tags).read();
}

std::optional<Edit> replacing_in_pgn(const Document& document, const Puzzle& puzzle, Span span,
                                     std::string_view old, std::string_view text) {
    const std::string_view there = std::string_view(document.bytes).substr(span.begin, span.end - span.begin);
    const bool in_movetext = puzzle.solution_span.begin <= span.begin && span.end <= puzzle.solution_span.end;
    if (in_movetext) {
        const bool plain = text.find_first_of("{}()[];%") == std::string_view::npos;
        return plain && there == old ? std::optional(Edit{span, std::string(text)}) : std::nullopt;
    }
    return there == escaped(old) ? std::optional(Edit{span, escaped(text)}) : std::nullopt;
}

} // namespace collection
