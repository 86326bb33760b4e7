// Findings for a terminal or a log: what, where, the line in question, and the play that shows it.

#include "board/fen.hpp"
#include "report/head.hpp"
#include "report/limit.hpp"
#include "report/overview.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace report {
namespace {

constexpr std::size_t label_width = 12; // "    puzzle  "

void add_labelled(Written<Plain>& text, std::string_view label, std::string_view value, const Look& look) {
    if (!value.empty()) {
        text << Untrusted(fmt::format("    {:<8}", label));
        wrap(text, label_width, Untrusted(value), label_width, look.width);
        text << "\n";
    }
}

/// A row of a diagram. Figurines stand on a light ground of their own: on a dark one White's outlines would
/// look black and Black's filled men white.
void add_row(Written<Plain>& text, std::string_view row, const Look& look) {
    constexpr std::size_t label = 2; // "8 "
    Written<Plain> squares;
    squares << Untrusted(row.substr(label));
    const bool on_ground = look.colour == Colour::yes && look.men == Men::figurines && row.front() != ' ';
    squares << (on_ground && row.back() != ']' ? Literal(" ") : Literal("")); // a margin as on the left
    text << "    " << Untrusted(row.substr(0, label))
         << (on_ground ? set_off(squares, "\x1b[30;47m", look) : squares) << "\n";
}

void add_board(Written<Plain>& text, const rules::Finding& finding, const Look& look) {
    const board::FenReading reading = board::read_fen(finding.fen, board::Start::by_letters);
    if (finding.fen.empty() || !reading.usable) {
        return;
    }
    const std::string drawn = diagram(reading.setup, board::Color::white, finding.squares, look.men);
    for (std::size_t at = 0; at < drawn.size();) {
        const std::size_t end = drawn.find('\n', at);
        add_row(text, std::string_view(drawn).substr(at, end - at), look);
        at = end + 1;
    }
}

/// A finding in full. `previous`: the one above it, whose diagram is not drawn twice.
void add_in_full(Written<Plain>& text, const rules::Finding& finding, const rules::Finding* previous,
                 const Look& look) {
    text << first_line(finding, look) << "\n" << excerpt(finding, look);
    add_labelled(text, "puzzle", finding.puzzle, look);
    add_labelled(text, "play", finding.play, look);
    const bool drawn_above = previous != nullptr && previous->puzzle == finding.puzzle &&
                             previous->fen == finding.fen && previous->squares == finding.squares;
    if (!drawn_above) {
        add_board(text, finding, look);
    }
    add_labelled(text, "cure", finding.cure, look);
    add_labelled(text, "fix", how_to_fix(finding), look);
    text << "\n";
}

void add_heading(Written<Plain>& text, rules::Status status, const Counts& counts) {
    switch (status) {
    case rules::Status::fresh:
        text << "New: " << Untrusted(plural(counts.fresh, "finding")) << "\n\n";
        break;
    case rules::Status::still:
        text << "Still there: " << Untrusted(plural(counts.still, "finding")) << "\n";
        break;
    case rules::Status::gone:
        text << "Gone: " << Untrusted(plural(counts.gone, "finding")) << "\n";
        break;
    case rules::Status::none:
        break;
    }
}

void add_findings(Written<Plain>& text, const Report& report, const Counts& counts, const Look& look) {
    const rules::Finding* previous = nullptr;
    Limit limit(look.limit);
    for (const rules::Finding* finding : grouped(report)) {
        const rules::Status status = finding->status;
        if (previous == nullptr || previous->status != status) {
            const bool behind_short_lines = previous != nullptr && previous->status == rules::Status::still;
            text << (behind_short_lines ? Literal("\n") : Literal(""));
            add_heading(text, status, counts);
        }
        const bool full = status == rules::Status::none || status == rules::Status::fresh;
        if (!limit.tells(*finding)) {
            continue;
        }
        if (full) {
            add_in_full(text, *finding, previous, look);
        } else {
            text << first_line(*finding, look) << "\n";
        }
        previous = finding;
    }
    if (previous != nullptr && counts.still + counts.gone > 0) {
        text << "\n"; // behind short lines
    }
    text << limit.left_out(look.width);
}

void add_closing(Written<Plain>& text, const Report& report, const Counts& counts, const Look& look) {
    const auto line = [&](const std::string& words) {
        constexpr std::size_t indent = 4;
        wrap(text, 0, Untrusted(words), indent, look.width);
        text << "\n";
    };
    line(fmt::format("Checked {} in {} ({} effort): {}, {}, {}.", plural(report.puzzles, "puzzle"),
                     plural(report.files, "file"), report.effort, plural(counts.error, "error"),
                     plural(counts.warning, "warning"), plural(counts.note, "note")));
    if (!report.against_name.empty()) {
        line(fmt::format("Against {}: {} new, {} still there, {} gone; {} unchanged.", report.against_name,
                         counts.fresh, counts.still, counts.gone, plural(report.unchanged, "puzzle")));
    }
    if (report.allowed > 0) {
        line(fmt::format("Silenced by allowances: {}.", plural(report.allowed, "finding")));
    }
    if (report.accepted > 0) {
        line(fmt::format("Accepted by the baseline: {}.", plural(report.accepted, "finding")));
    }
    for (const std::string& remark : report.remarks) {
        line("Remark: " + remark);
    }
    const auto shown = grouped(report);
    if (!shown.empty() && shown.front()->status != rules::Status::gone) {
        line("More about a rule: sidelint explain " + shown.front()->rule);
    }
}

} // namespace

std::string text(const Report& report, const Look& look) {
    const Counts counts = count(report);
    Written<Plain> text;
    add_findings(text, report, counts, look);
    if (report.overview) {
        text << overview_text(report, look.width);
    }
    if (look.closing == Closing::yes) {
        add_closing(text, report, counts, look);
    }
    return std::move(text).text();
}

} // namespace report
