#include "collection/document.hpp"

#include "collection/builder.hpp"
#include "collection/readers.hpp"
#include "collection/text.hpp"

#include <algorithm>

namespace collection {

namespace {

constexpr std::string_view byte_order_mark = "\xef\xbb\xbf";

std::string extension_of(std::string_view path) {
    const std::string_view name = path.substr(path.rfind('/') + 1); // npos + 1 is 0
    const std::size_t dot = name.rfind('.');
    return dot == std::string_view::npos ? std::string() : lower(name.substr(dot));
}

template <class Mapping>
const Mapping* last_fitting(const std::vector<Mapping>& mappings, std::string_view path) {
    const auto found = std::find_if(mappings.rbegin(), mappings.rend(), [path](const Mapping& mapping) {
        return glob_matches(mapping.files, path);
    });
    return found == mappings.rend() ? nullptr : &*found;
}

/// A key `puzzles` at the left edge, or the whole file in flow style.
bool has_puzzles_key(std::string_view text) {
    const std::string_view body = trim(text.substr(text.substr(0, 3) == byte_order_mark ? 3 : 0));
    if (!body.empty() && body.front() == '{') {
        return body.find("puzzles") != std::string_view::npos;
    }
    for (std::size_t at = text.find("puzzles"); at != std::string_view::npos;
         at = text.find("puzzles", at + 1)) {
        const bool in_quotes = at > 0 && (text[at - 1] == '"' || text[at - 1] == '\'');
        const std::size_t begin = in_quotes ? at - 1 : at;
        const bool at_edge = begin == 0 || is_line_end(text[begin - 1]) ||
                             (begin == 3 && text.substr(0, 3) == byte_order_mark);
        std::size_t end = at + 7 + (in_quotes ? 1 : 0);
        end = std::min(text.find_first_not_of(" \t", end), text.size());
        if (at_edge && end < text.size() && text[end] == ':') {
            return true;
        }
    }
    return false;
}

bool is_wide_text(std::string_view text) {
    return text.substr(0, 2) == "\xff\xfe" || text.substr(0, 2) == "\xfe\xff";
}

/// One fault a file: a table of texts with NULs in it does not get better by being told so a thousand times.
bool check_encoding(Document& document) {
    if (is_wide_text(document.bytes)) {
        document.faults.push_back(
            {Fault::Kind::encoding, {0, 2}, "The file is in UTF-16", "Save it as UTF-8"});
        return false;
    }
    const std::size_t nul = document.bytes.find('\0');
    if (nul != std::string::npos) {
        document.faults.push_back({Fault::Kind::encoding,
                                   {nul, nul + 1},
                                   "The file has NUL bytes, which belong in no text",
                                   "Save it as plain text in UTF-8"});
    }
    return true;
}

/// The stretches between lines that are too long; those lines are faults.
std::vector<Span> readable_parts(Document& document) {
    const std::string_view text = document.bytes;
    std::vector<Span> parts;
    std::size_t begin = text.substr(0, 3) == byte_order_mark ? 3 : 0;
    for (std::size_t at = begin; at < text.size();) {
        const std::size_t end = line_end(text, at);
        const std::size_t next = next_line(text, end);
        if (end - at > max_line_bytes) {
            add_fault(document.faults,
                      {Fault::Kind::limit,
                       {at, at + 1},
                       "The line has more than " + std::to_string(max_line_bytes) + " bytes and was not read",
                       "Break it into shorter lines"});
            parts.push_back({begin, at});
            begin = next;
        }
        at = next;
    }
    parts.push_back({begin, text.size()});
    parts.erase(std::remove_if(parts.begin(), parts.end(), [](Span part) { return part.begin == part.end; }),
                parts.end());
    return parts;
}

bool has_limit_fault(const Document& document) {
    return std::any_of(document.faults.begin(), document.faults.end(),
                       [](const Fault& fault) { return fault.kind == Fault::Kind::limit; });
}

void read_parts(Document& document, const ReadOptions& options) {
    const std::vector<Span> parts = readable_parts(document);
    const TagMapping* const tags = last_fitting(options.tags, document.path);
    const TableMapping* const table = last_fitting(options.tables, document.path);
    TableColumns columns;
    for (const Span part : parts) {
        switch (document.format) {
        case Format::pgn:
            read_pgn(document, part, tags == nullptr ? TagMapping{} : *tags);
            break;
        case Format::epd:
            read_epd(document, part);
            break;
        case Format::table:
            read_table(document, part, *table, columns);
            break;
        case Format::yaml:
            if (parts.size() == 1 && !has_limit_fault(document)) {
                read_yaml(document, part); // its lines hang together
            }
            break;
        case Format::none:
            break;
        }
    }
}

} // namespace

bool add_puzzle(Document& document, Puzzle puzzle) {
    if (document.puzzles.size() >= max_puzzles) {
        add_fault(document.faults, {Fault::Kind::limit, puzzle.span,
                                    "The file has more than " + std::to_string(max_puzzles) +
                                        " puzzles; the rest was not read",
                                    "Split the file"});
        return false;
    }
    finish(puzzle, document.path, document.puzzles.size() + 1);
    const bool listed = document.faults_in_puzzles <= max_faults;
    document.faults_in_puzzles += puzzle.faults.size();
    if (!listed) {
        std::vector<Fault>().swap(puzzle.faults);
    } else if (document.faults_in_puzzles > max_faults) {
        add_fault(document.faults, {Fault::Kind::limit,
                                    puzzle.span,
                                    "The file has so many faults that those of later puzzles are not listed",
                                    {}});
    }
    document.puzzles.push_back(std::move(puzzle));
    return true;
}

Format format_of(std::string_view path, std::string_view bytes, const ReadOptions& options) {
    const std::string extension = extension_of(path);
    if (extension == ".pgn") {
        return Format::pgn;
    }
    if (extension == ".epd" || extension == ".fen") {
        return Format::epd;
    }
    if (extension == ".yaml" || extension == ".yml") {
        return has_puzzles_key(bytes) ? Format::yaml : Format::none;
    }
    return last_fitting(options.tables, path) != nullptr ? Format::table : Format::none;
}

Document read(std::string path, std::string bytes, const ReadOptions& options) {
    Document document;
    document.path = std::move(path);
    document.bytes = std::move(bytes);
    document.format = format_of(document.path, document.bytes, options);
    if (document.format == Format::none) {
        document.lines = LineIndex(document.bytes);
        return document;
    }
    if (document.bytes.size() > max_file_bytes) {
        document.faults.push_back(
            {Fault::Kind::limit,
             {0, 0},
             "The file has more than " + std::to_string(max_file_bytes) + " bytes and was not read",
             "Split it"});
        document.lines = LineIndex(std::string_view(document.bytes).substr(0, 1));
        return document;
    }
    document.lines = LineIndex(document.bytes);
    if (check_encoding(document)) {
        read_parts(document, options);
    }
    std::stable_sort(document.faults.begin(), document.faults.end(),
                     [](const Fault& a, const Fault& b) { return a.span.begin < b.span.begin; });
    return document;
}

Document unreadable(std::string path, std::string why, std::string cure) {
    Document document;
    document.path = std::move(path);
    document.lines = LineIndex(document.bytes);
    document.faults.push_back({Fault::Kind::unreadable, {}, std::move(why), std::move(cure)});
    return document;
}

} // namespace collection
