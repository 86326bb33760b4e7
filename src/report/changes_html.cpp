// What a change did, as a page: both states of each puzzle side by side.

#include "report/changes.hpp"
#include "report/page/shell.hpp"
#include "report/svg.hpp"

namespace report {
namespace {

using Page = Written<Html>;

/// Squares on which the two differ.
std::vector<board::Square> differing(const board::Setup& a, const board::Setup& b) {
    std::vector<board::Square> squares;
    for (int i = 0; i < 64; ++i) {
        const board::Square square = board::square_at(i);
        if (a.at(square) != b.at(square)) {
            squares.push_back(square);
        }
    }
    return squares;
}

void add_figure(Page& page, const board::Setup& setup, const std::vector<board::Square>& marked,
                board::Color below, Literal when, std::size_t number) {
    page << "<figure>" << svg_board({setup, below, marked, {}}, number) << "<figcaption>" << when << ", "
         << (setup.turn == board::Color::white ? Literal("White") : Literal("Black"))
         << " to move.</figcaption></figure>";
}

/// Both diagrams when they differ, else the one there is.
void add_boards(Page& page, const PuzzleChange& puzzle, std::size_t& boards) {
    const auto& before = puzzle.diagram_before;
    const auto& after = puzzle.diagram;
    page << "<div class=\"pair\">";
    if (before && after && *before != *after) {
        const auto marked = differing(*before, *after);
        add_figure(page, *before, marked, after->turn, "Before", ++boards);
        add_figure(page, *after, marked, after->turn, "After", ++boards);
    } else if (after) {
        add_figure(page, *after, {}, after->turn, before ? Literal("As before") : Literal("New"), ++boards);
    } else if (before) {
        add_figure(page, *before, {}, before->turn, "Gone", ++boards);
    }
    page << "</div>";
}

void add_finding(Page& page, const rules::Finding& finding) {
    page << "<li>" << (finding.status == rules::Status::gone ? Literal("gone: ") : Literal("<b>new:</b> "))
         << Untrusted(rules::name(finding.severity)) << " <code>" << Untrusted(finding.rule)
         << "</code>: " << Untrusted(finding.message);
    if (!finding.play.empty()) {
        page << "<br>" << Untrusted(finding.play);
    }
    page << "</li>";
}

void add_puzzle(Page& page, const PuzzleChange& puzzle, bool with_boards, std::size_t& boards) {
    page << "\n<article class=\"change\"><h3>" << Untrusted(puzzle.id) << " "
         << Untrusted(history::name(puzzle.change)) << "</h3><p class=\"where\"><code>"
         << Untrusted(puzzle.file) << ":" << puzzle.line << "</code>";
    if (!puzzle.id_before.empty()) {
        page << ", called " << Untrusted(puzzle.id_before) << " before";
    }
    if (!puzzle.file_before.empty()) {
        page << ", from <code>" << Untrusted(puzzle.file_before) << "</code>";
    }
    page << "</p>";
    if (with_boards) {
        add_boards(page, puzzle, boards);
    }
    page << "<ul>";
    if (!puzzle.summary.empty()) {
        page << "<li>" << Untrusted(puzzle.summary) << "</li>";
    }
    for (const history::FieldChange& field : puzzle.fields) {
        for (const std::string& words : field.words) {
            page << "<li>" << Untrusted(field.field) << ": " << Untrusted(words) << "</li>";
        }
    }
    for (const auto* findings : {&puzzle.fresh, &puzzle.gone}) {
        for (const rules::Finding& finding : *findings) {
            add_finding(page, finding);
        }
    }
    if (puzzle.still > 0) {
        page << "<li>still there: " << puzzle.still << "</li>";
    }
    page << "</ul></article>";
}

} // namespace

std::string changes_html(const Changes& changes, std::size_t most_boards) {
    Page page;
    page << page::begin("sidelint: what changed") << "<header><h1>From " << Untrusted(changes.before)
         << " to " << Untrusted(changes.after) << "</h1><p class=\"counts\">"
         << Untrusted(changes_counted(changes)) << ".</p></header>\n<main>"
         << (changes.puzzles.empty() ? Literal("<p>No puzzle changed.</p>") : Literal("<h2>Puzzles</h2>"));
    std::size_t boards = 0;
    for (const PuzzleChange& puzzle : changes.puzzles) {
        add_puzzle(page, puzzle, boards < most_boards, boards);
    }
    if (!changes.elsewhere.empty()) {
        page << "<h2>Elsewhere</h2><ul>";
        for (const rules::Finding& finding : changes.elsewhere) {
            add_finding(page, finding);
        }
        page << "</ul>";
    }
    page << "</main>\n<footer>";
    for (const std::string& remark : changes.remarks) {
        page << "<p class=\"about\">" << Untrusted(remark) << ".</p>";
    }
    page << "<p class=\"about\">sidelint " << Untrusted(changes.version) << "</p></footer>\n" << page::end();
    return std::move(page).text();
}

} // namespace report
