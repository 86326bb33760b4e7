#include "report/json_parts.hpp"

namespace report {

std::string json(const Report& report) {
    Json root = {{"tool", tool_json(report)}, {"run", run_json(report)}, {"summary", summary_json(report)}};
    if (report.detail == Detail::puzzles) {
        root["puzzles"] = Json::array();
        for (const rules::PuzzleSummary& puzzle : report.summaries) {
            root["puzzles"].push_back(puzzle_json(puzzle));
        }
    }
    if (report.overview) {
        root["overview"] = overview_json(report);
    }
    root["findings"] = Json::array();
    for (std::size_t i = 0; i < report.findings.size(); ++i) {
        root["findings"].push_back(finding_json(report, i));
    }
    constexpr int indent = 2;
    return dumped(root, indent) + '\n';
}

} // namespace report
