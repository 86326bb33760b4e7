#include "report/report.hpp"

#include <nlohmann/json.hpp>

namespace report {
namespace {

using Json = nlohmann::ordered_json;

Json text_or_null(std::string_view text) {
    return text.empty() ? Json() : Json(text);
}

template <class T> Json value_or_null(const std::optional<T>& value) {
    return value ? Json(*value) : Json();
}

Json certainty_of(const std::optional<solve::Certainty>& certainty) {
    return certainty ? Json(solve::name(*certainty)) : Json();
}

std::vector<std::string> names_of(const std::vector<board::Square>& squares) {
    std::vector<std::string> names;
    names.reserve(squares.size());
    for (const board::Square square : squares) {
        names.push_back(board::name(square));
    }
    return names;
}

Json json_of(const rules::PuzzleSummary& puzzle) {
    Json key;
    if (puzzle.key) {
        const auto& told = *puzzle.key;
        key = {{"san", told.san},
               {"verdict", told.verdict},
               {"certainty", solve::name(told.certainty)},
               {"score", told.score ? Json(static_cast<double>(*told.score) / 100.0) : Json()},
               {"mate_in", value_or_null(told.mate_in)}};
    }
    Json motifs = Json::array();
    for (const auto& motif : puzzle.motifs) {
        motifs.push_back({{"motif", motif.motif},
                          {"ply", motif.ply},
                          {"declared", motif.declared},
                          {"strength", motif::name(motif.strength)},
                          {"certainty", solve::name(motif.certainty)},
                          {"squares", names_of(motif.squares)},
                          {"why", motif.why}});
    }
    return {{"id", puzzle.id},   {"file", puzzle.file}, {"line", puzzle.line},
            {"fen", puzzle.fen}, {"goal", puzzle.goal}, {"goal_stated", puzzle.goal_stated},
            {"key", key},        {"motifs", motifs}};
}

Json json_of(const rules::Finding& finding) {
    return {{"rule", finding.rule},
            {"severity", rules::name(finding.severity)},
            {"puzzle", text_or_null(finding.puzzle)},
            {"file", finding.file},
            {"line", finding.begin.line},
            {"column", finding.begin.column},
            {"end_line", finding.end.line},
            {"end_column", finding.end.column},
            {"message", finding.message},
            {"certainty", certainty_of(finding.certainty)},
            {"evidence",
             {{"line", finding.line},
              {"fen", text_or_null(finding.fen)},
              {"squares", names_of(finding.squares)}}},
            {"status", text_or_null(rules::name(finding.status))},
            {"fingerprint", finding.fingerprint},
            {"fix", nullptr}};
}

/// CI runners obey "##[" anywhere in a log; escaped it means the same to every JSON reader.
std::string without_marks(std::string dumped) {
    constexpr std::string_view escaped = "\\u0023";
    for (std::size_t at = dumped.find("##"); at != std::string::npos; at = dumped.find("##", at)) {
        dumped.replace(at + 1, 1, escaped);
        at += 1 + escaped.size();
    }
    return dumped;
}

} // namespace

std::string json(const Report& report) {
    const Counts counts = count(report);
    Json root = {
        {"tool", {{"name", "sidelint"}, {"version", report.version}}},
        {"run", {{"effort", report.effort}, {"against", value_or_null(report.against)}}},
        {"summary",
         {{"files", report.files},
          {"puzzles", report.puzzles},
          {"findings", {{"error", counts.error}, {"warning", counts.warning}, {"note", counts.note}}},
          {"history", {{"new", counts.fresh}, {"still", counts.still}, {"gone", counts.gone}}}}},
    };
    if (report.detail == Detail::puzzles) {
        root["puzzles"] = Json::array();
        for (const rules::PuzzleSummary& puzzle : report.summaries) {
            root["puzzles"].push_back(json_of(puzzle));
        }
    }
    root["findings"] = Json::array();
    for (std::size_t i = 0; i < report.findings.size(); ++i) {
        root["findings"].push_back(json_of(report.findings[i]));
        if (report.detail == Detail::proofs) {
            const Proof proof = i < report.proofs.size() ? report.proofs[i] : Proof();
            Json& evidence = root["findings"].back()["evidence"];
            evidence["certificate"] = text_or_null(proof.certificate);
            evidence["certificate_refused"] = text_or_null(proof.refusal);
        }
    }
    constexpr int indent = 2;
    return without_marks(root.dump(indent, ' ', true, Json::error_handler_t::replace)) + '\n';
}

} // namespace report
