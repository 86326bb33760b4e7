#include "report/changes.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

namespace report {
namespace {

using history::Change;

std::string coloured(std::string_view label, std::string_view sgr, Colour colour) {
    return colour == Colour::yes ? fmt::format("\x1b[{}m{:<10}\x1b[0m", sgr, label)
                                 : fmt::format("{:<10}", label);
}

std::string row(std::string_view label, std::string_view text) {
    return fmt::format("    {:<10} {}\n", harmless(label), harmless(text));
}

std::string finding_row(const rules::Finding& finding, Colour colour) {
    const bool gone = finding.status == rules::Status::gone;
    return fmt::format("    {} {} {}: {}\n", coloured(gone ? "gone" : "new", gone ? "1" : "1;31", colour),
                       rules::name(finding.severity), harmless(finding.rule), harmless(finding.message));
}

std::string heading(const PuzzleChange& puzzle) {
    std::string text = fmt::format("{}:{}: {} {}", harmless(puzzle.file), puzzle.line, harmless(puzzle.id),
                                   history::name(puzzle.change));
    if (!puzzle.id_before.empty()) {
        text += fmt::format(", called {} before", harmless(puzzle.id_before));
    }
    if (!puzzle.file_before.empty()) {
        text += fmt::format(", from {}", harmless(puzzle.file_before));
    } else if (puzzle.change == Change::moved) {
        text += " within its file";
    }
    return text + '\n';
}

std::string puzzle_text(const PuzzleChange& puzzle, Colour colour) {
    std::string text = heading(puzzle);
    if (!puzzle.summary.empty()) {
        text += row("", puzzle.summary);
    }
    for (const history::FieldChange& field : puzzle.fields) {
        for (std::size_t i = 0; i < field.words.size(); ++i) {
            text += row(i == 0 ? field.field : "", field.words[i]);
        }
    }
    for (const auto* findings : {&puzzle.fresh, &puzzle.gone}) {
        for (const rules::Finding& finding : *findings) {
            text += finding_row(finding, colour);
        }
    }
    if (puzzle.still > 0) {
        text += row("still",
                    fmt::format("{} finding{} there before", puzzle.still, puzzle.still == 1 ? "" : "s"));
    }
    return text + '\n';
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

std::string changes_text(const Changes& changes, Colour colour) {
    std::string text;
    for (const PuzzleChange& puzzle : changes.puzzles) {
        text += puzzle_text(puzzle, colour);
    }
    for (const rules::Finding& finding : changes.elsewhere) {
        text += fmt::format("{}:{}: {}\n{}\n", harmless(finding.file), finding.begin.line,
                            finding.puzzle.empty() ? "the file" : harmless(finding.puzzle) + " unchanged",
                            finding_row(finding, colour));
    }
    text +=
        fmt::format("From {} to {}: {}; {} unchanged in these files ({} effort).\n", harmless(changes.before),
                    harmless(changes.after), changes_counted(changes), changes.unchanged, changes.effort);
    for (const std::string& remark : changes.remarks) {
        text += fmt::format("Remark: {}\n", harmless(remark));
    }
    return text;
}

} // namespace report
