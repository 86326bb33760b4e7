// Findings for a terminal or a log: what, where, the line in question, and the play that shows it.

#include "board/fen.hpp"
#include "report/head.hpp"
#include "report/utf8.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace report {
namespace {

constexpr std::string_view indent = "    ";

std::string plural(std::size_t count, std::string_view one) {
    return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

/// The source line with the place in question underlined.
std::string excerpt(const rules::Finding& finding) {
    std::string source = finding.excerpt;
    if (source.starts_with("\xEF\xBB\xBF")) {
        source.erase(0, 3); // takes no column
    }
    std::replace(source.begin(), source.end(), '\t', ' ');
    if (source.find_first_not_of(' ') == std::string::npos) {
        return {};
    }
    const std::string number = fmt::format("{:>6}", finding.begin.line);
    std::string drawn = fmt::format("{} | {}\n", number, harmless(source));
    const std::size_t from = bytes_of(source, finding.begin.column - 1);
    if (from >= source.size()) {
        return drawn; // the place lies behind the part that is shown
    }
    const bool one_line = finding.end.line == finding.begin.line;
    const std::size_t to = one_line ? bytes_of(source, finding.end.column - 1) : source.size();
    const std::size_t start = width(harmless(std::string_view(source).substr(0, from)));
    const std::size_t end = width(harmless(std::string_view(source).substr(0, std::max(from, to))));
    drawn += fmt::format("{:>6} | {}{}\n", "", std::string(start, ' '),
                         std::string(std::max<std::size_t>(end - start, 1), '^'));
    return drawn;
}

std::string labelled(std::string_view label, std::string_view value) {
    return value.empty() ? std::string() : fmt::format("{}{:<8}{}\n", indent, label, harmless(value));
}

std::string board_of(const rules::Finding& finding) {
    const board::FenReading reading = board::read_fen(finding.fen);
    if (finding.fen.empty() || !reading.usable) {
        return {};
    }
    const std::string drawn = diagram(reading.setup, board::Color::white, finding.squares);
    std::string text;
    for (std::size_t at = 0; at < drawn.size();) {
        const std::size_t end = drawn.find('\n', at);
        text += std::string(indent) + drawn.substr(at, end - at + 1);
        at = end + 1;
    }
    return text;
}

/// A finding in full. `previous`: the one above it, whose diagram is not drawn twice.
std::string in_full(const rules::Finding& finding, const rules::Finding* previous, Colour colour) {
    std::string text = first_line(finding, colour) + '\n' + excerpt(finding);
    text += labelled("puzzle", finding.puzzle);
    text += labelled("play", finding.play);
    const bool drawn_above = previous != nullptr && previous->puzzle == finding.puzzle &&
                             previous->fen == finding.fen && previous->squares == finding.squares;
    if (!drawn_above) {
        text += board_of(finding);
    }
    text += labelled("cure", finding.cure);
    return text + '\n';
}

std::string heading(rules::Status status, std::size_t count) {
    switch (status) {
    case rules::Status::fresh:
        return fmt::format("New: {}\n\n", plural(count, "finding"));
    case rules::Status::still:
        return fmt::format("Still there: {}\n", plural(count, "finding"));
    case rules::Status::gone:
        return fmt::format("Gone: {}\n", plural(count, "finding"));
    case rules::Status::none:
        break;
    }
    return {};
}

std::string findings_text(const Report& report, const Counts& counts, Colour colour) {
    std::string text;
    const rules::Finding* previous = nullptr;
    for (const rules::Finding* finding : grouped(report)) {
        const rules::Status status = finding->status;
        if (previous == nullptr || previous->status != status) {
            const bool behind_short_lines = previous != nullptr && previous->status == rules::Status::still;
            text += behind_short_lines ? "\n" : "";
            text += heading(status, status == rules::Status::fresh   ? counts.fresh
                                    : status == rules::Status::still ? counts.still
                                                                     : counts.gone);
        }
        const bool full = status == rules::Status::none || status == rules::Status::fresh;
        text += full ? in_full(*finding, previous, colour) : first_line(*finding, colour) + '\n';
        previous = finding;
    }
    const bool short_lines_last = previous != nullptr && (counts.still + counts.gone) > 0;
    return text + (short_lines_last ? "\n" : "");
}

std::string closing_text(const Report& report, const Counts& counts) {
    std::string text =
        fmt::format("Checked {} in {} ({} effort): {}, {}, {}.\n", plural(report.puzzles, "puzzle"),
                    plural(report.files, "file"), report.effort, plural(counts.error, "error"),
                    plural(counts.warning, "warning"), plural(counts.note, "note"));
    if (!report.against_name.empty()) {
        text += fmt::format("Against {}: {} new, {} still there, {} gone; {} unchanged.\n",
                            harmless(report.against_name), counts.fresh, counts.still, counts.gone,
                            plural(report.unchanged, "puzzle"));
    }
    if (report.allowed > 0) {
        text += fmt::format("Silenced by allowances: {}.\n", plural(report.allowed, "finding"));
    }
    if (report.accepted > 0) {
        text += fmt::format("{} accepted by the baseline.\n", plural(report.accepted, "finding"));
    }
    for (const std::string& remark : report.remarks) {
        text += fmt::format("Remark: {}\n", harmless(remark));
    }
    const auto shown = grouped(report);
    if (!shown.empty() && shown.front()->status != rules::Status::gone) {
        text += fmt::format("More about a rule: sidelint explain {}\n", harmless(shown.front()->rule));
    }
    return text;
}

} // namespace

std::string text(const Report& report, Colour colour, Closing closing) {
    const Counts counts = count(report);
    std::string text = findings_text(report, counts, colour);
    if (closing == Closing::yes) {
        text += closing_text(report, counts);
    }
    return text;
}

} // namespace report
