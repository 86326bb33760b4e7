#include "report/changes.hpp"
#include "report/json_parts.hpp"

namespace report {
namespace {

Json finding_of(const rules::Finding& finding) {
    return {{"status", rules::name(finding.status)},
            {"severity", rules::name(finding.severity)},
            {"rule", finding.rule},
            {"message", finding.message},
            {"puzzle", text_or_null(finding.puzzle)},
            {"file", finding.file},
            {"line", finding.begin.line},
            {"column", finding.begin.column},
            {"fingerprint", finding.fingerprint}};
}

Json puzzle_of(const PuzzleChange& puzzle) {
    Json fields = Json::array();
    for (const history::FieldChange& field : puzzle.fields) {
        fields.push_back({{"field", field.field}, {"words", field.words}});
    }
    Json findings = Json::array();
    for (const auto* list : {&puzzle.fresh, &puzzle.gone}) {
        for (const rules::Finding& finding : *list) {
            findings.push_back(finding_of(finding));
        }
    }
    return {{"change", history::name(puzzle.change)},
            {"id", puzzle.id},
            {"id_before", text_or_null(puzzle.id_before)},
            {"file", puzzle.file},
            {"file_before", text_or_null(puzzle.file_before)},
            {"line", puzzle.line},
            {"summary", text_or_null(puzzle.summary)},
            {"fields", fields},
            {"findings", findings},
            {"still", puzzle.still}};
}

} // namespace

std::string changes_json(const Changes& changes) {
    Json root = {{"tool", {{"name", "sidelint"}, {"version", changes.version}}},
                 {"run", {{"effort", changes.effort}, {"before", changes.before}, {"after", changes.after}}},
                 {"unchanged", changes.unchanged}};
    root["puzzles"] = Json::array();
    for (const PuzzleChange& puzzle : changes.puzzles) {
        root["puzzles"].push_back(puzzle_of(puzzle));
    }
    root["elsewhere"] = Json::array();
    for (const rules::Finding& finding : changes.elsewhere) {
        root["elsewhere"].push_back(finding_of(finding));
    }
    constexpr int indent = 2;
    return dumped(root, indent) + '\n';
}

} // namespace report
