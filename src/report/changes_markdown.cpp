#include "report/changes.hpp"
#include "report/escapers.hpp"

#include <fmt/format.h>

namespace report {
namespace {

constexpr std::size_t most_bytes = std::size_t{900} << 10U; ///< hosts drop a whole summary past 1 MiB

std::string plain(std::string_view untrusted) {
    std::string text;
    Markdown::escape(Untrusted(untrusted), text);
    return text;
}

std::string finding_item(const rules::Finding& finding) {
    const bool gone = finding.status == rules::Status::gone;
    return fmt::format("  - {}: {} {}: {}\n", gone ? "gone" : "**new**", rules::name(finding.severity),
                       plain(finding.rule), plain(finding.message));
}

std::string puzzle_item(const PuzzleChange& puzzle) {
    std::string text = fmt::format("- **{}** {} ({}, line {})", plain(puzzle.id),
                                   history::name(puzzle.change), plain(puzzle.file), puzzle.line);
    if (!puzzle.id_before.empty()) {
        text += fmt::format(", called {} before", plain(puzzle.id_before));
    }
    if (!puzzle.file_before.empty()) {
        text += fmt::format(", from {}", plain(puzzle.file_before));
    }
    text += puzzle.summary.empty() ? "\n" : fmt::format("\\\n  {}\n", plain(puzzle.summary));
    for (const history::FieldChange& field : puzzle.fields) {
        for (const std::string& words : field.words) {
            text += fmt::format("  - {}: {}\n", plain(field.field), plain(words));
        }
    }
    for (const auto* findings : {&puzzle.fresh, &puzzle.gone}) {
        for (const rules::Finding& finding : *findings) {
            text += finding_item(finding);
        }
    }
    if (puzzle.still > 0) {
        text += fmt::format("  - {} finding{} still there\n", puzzle.still, puzzle.still == 1 ? "" : "s");
    }
    return text;
}

} // namespace

std::string changes_markdown(const Changes& changes) {
    std::string text = fmt::format("### From {} to {}\n\n{}.\n\n", plain(changes.before),
                                   plain(changes.after), changes_counted(changes));
    std::size_t left_out = 0;
    const auto add = [&](const std::string& item) {
        if (left_out > 0 || text.size() + item.size() > most_bytes) {
            ++left_out;
        } else {
            text += item;
        }
    };
    for (const PuzzleChange& puzzle : changes.puzzles) {
        add(puzzle_item(puzzle));
    }
    for (const rules::Finding& finding : changes.elsewhere) {
        add(fmt::format("- {} (line {})\n{}", plain(finding.file), finding.begin.line,
                        finding_item(finding)));
    }
    if (left_out > 0) {
        text += fmt::format("\n{} more left out: the summary would be too long.\n", left_out);
    }
    for (const std::string& remark : changes.remarks) {
        text += fmt::format("\nRemark: {}\n", plain(remark));
    }
    return text;
}

} // namespace report
