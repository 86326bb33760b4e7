#include "report/json_parts.hpp"

namespace report {
namespace {

void add_line(std::string& text, std::string_view type, const Json& fields) {
    Json line = {{"type", type}};
    line.update(fields);
    text += dumped(line, -1) + '\n';
}

} // namespace

std::string json_lines(const Report& report) {
    std::string text;
    add_line(text, "run", {{"tool", tool_json(report)}, {"run", run_json(report)}});
    if (report.detail == Detail::puzzles) {
        for (const rules::PuzzleSummary& puzzle : report.summaries) {
            add_line(text, "puzzle", puzzle_json(puzzle));
        }
    }
    for (std::size_t i = 0; i < report.findings.size(); ++i) {
        add_line(text, "finding", finding_json(report, i));
    }
    if (report.overview) {
        add_line(text, "overview", {{"tables", overview_json(report)}});
    }
    add_line(text, "summary", summary_json(report));
    return text;
}

} // namespace report
