#include "report/changes.hpp"
#include "report/head.hpp"
#include "report/utf8.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

namespace report {
namespace {

using history::Change;

using Text = Written<Plain>;

constexpr std::size_t text_column = 15; // behind "    position   "

void add_row(Text& text, const Text& label, std::size_t label_cells, std::string_view words,
             const Look& look) {
    text << "    " << label;
    text.times(text_column - 4 - std::min<std::size_t>(label_cells, text_column - 5), " ");
    wrap(text, text_column, Untrusted(words), text_column, look.width);
    text << "\n";
}

void add_row(Text& text, std::string_view label, std::string_view words, const Look& look) {
    Text written;
    written << Untrusted(label);
    add_row(text, written, label.size(), words, look);
}

void add_finding(Text& text, const rules::Finding& finding, const Look& look) {
    Text label;
    label << (finding.status == rules::Status::gone ? Literal("gone") : Literal("new"));
    const std::size_t cells = label.size();
    add_row(text, set_off(label, tone_of(finding), look), cells,
            fmt::format("{} {}: {}", rules::name(finding.severity), finding.rule, finding.message), look);
}

/// "sets/a.yaml:7: harbour-001 changed, from sets/b.yaml"
void add_heading(Text& text, const std::string& file, std::size_t line, const std::string& words,
                 const Look& look) {
    Text place;
    place << Untrusted(file) << ":" << line << ":";
    text << set_off(place, "\x1b[1m", look) << " ";
    constexpr std::size_t indent = 4;
    wrap(text, width(place.text()) + 1, Untrusted(words), indent, look.width);
    text << "\n";
}

std::string heading_of(const PuzzleChange& puzzle) {
    std::string words = fmt::format("{} {}", puzzle.id, history::name(puzzle.change));
    if (!puzzle.id_before.empty()) {
        words += fmt::format(", called {} before", puzzle.id_before);
    }
    if (!puzzle.file_before.empty()) {
        words += fmt::format(", from {}", puzzle.file_before);
    } else if (puzzle.change == Change::moved) {
        words += " within its file";
    }
    return words;
}

void add_puzzle(Text& text, const PuzzleChange& puzzle, const Look& look) {
    add_heading(text, puzzle.file, puzzle.line, heading_of(puzzle), look);
    if (!puzzle.summary.empty()) {
        add_row(text, "", puzzle.summary, look);
    }
    for (const history::FieldChange& field : puzzle.fields) {
        for (std::size_t i = 0; i < field.words.size(); ++i) {
            add_row(text, i == 0 ? field.field : "", field.words[i], look);
        }
    }
    for (const auto* findings : {&puzzle.fresh, &puzzle.gone}) {
        for (const rules::Finding& finding : *findings) {
            add_finding(text, finding, look);
        }
    }
    if (puzzle.still > 0) {
        add_row(text, "still", plural(puzzle.still, "finding") + " there before", look);
    }
    text << "\n";
}

} // namespace

std::string changes_counted(const Changes& changes) {
    std::array<std::size_t, 5> by_change{};
    std::size_t fresh = 0;
    std::size_t gone = 0;
    std::size_t still = 0;
    for (const PuzzleChange& puzzle : changes.puzzles) {
        ++by_change[static_cast<std::size_t>(puzzle.change)];
        fresh += puzzle.fresh.size();
        gone += puzzle.gone.size();
        still += puzzle.still;
    }
    for (const rules::Finding& finding : changes.elsewhere) {
        ++(finding.status == rules::Status::gone ? gone : fresh);
    }
    std::vector<std::string> parts;
    for (const Change change : {Change::changed, Change::added, Change::removed, Change::moved}) {
        if (const std::size_t count = by_change[static_cast<std::size_t>(change)]; count > 0) {
            parts.push_back(fmt::format("{} {}", count, history::name(change)));
        }
    }
    return fmt::format("{}; findings: {} new, {} gone, {} still there",
                       parts.empty() ? "no puzzle changed" : fmt::format("{}", fmt::join(parts, ", ")), fresh,
                       gone, still);
}

std::string changes_text(const Changes& changes, const Look& look) {
    Text text;
    for (const PuzzleChange& puzzle : changes.puzzles) {
        add_puzzle(text, puzzle, look);
    }
    for (const rules::Finding& finding : changes.elsewhere) {
        add_heading(text, finding.file, finding.begin.line,
                    finding.puzzle.empty() ? "the file" : finding.puzzle + " unchanged", look);
        add_finding(text, finding, look);
        text << "\n";
    }
    const auto add_line = [&](const std::string& words) {
        constexpr std::size_t indent = 4;
        wrap(text, 0, Untrusted(words), indent, look.width);
        text << "\n";
    };
    add_line(fmt::format("From {} to {}: {}; {} unchanged in these files ({} effort).", changes.before,
                         changes.after, changes_counted(changes), changes.unchanged, changes.effort));
    for (const std::string& remark : changes.remarks) {
        add_line("Remark: " + remark);
    }
    return std::move(text).text();
}

} // namespace report
