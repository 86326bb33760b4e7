#include "board/fen.hpp"
#include "board/san.hpp"
#include "report/report.hpp"
#include "solve/certificate.hpp"

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
        motifs.push_back({{"motif", motif.motif}, {"ply", motif.ply}, {"declared", motif.declared}});
    }
    return {{"id", puzzle.id},   {"file", puzzle.file}, {"line", puzzle.line},
            {"fen", puzzle.fen}, {"goal", puzzle.goal}, {"goal_stated", puzzle.goal_stated},
            {"key", key},        {"motifs", motifs}};
}

/// The proof of a mate that the finding's line ends in, when it was proved and is short enough for a report.
Json certificate_of(const rules::Finding& finding, const solve::Budget& budget) {
    constexpr std::size_t most_lines = 2'000;
    const bool mates = finding.line.size() % 2 == 1 && finding.line.back().ends_with('#');
    if (!mates || finding.certainty != solve::Certainty::proved) {
        return {};
    }
    const auto position = board::Position::from(board::read_fen(finding.fen).setup);
    const auto san = board::read_san(finding.line.front());
    if (!position || !san) {
        return {};
    }
    const auto key = board::resolve(*position, *san);
    if (!key) {
        return {};
    }
    const solve::MateClaim claim{*position, *key, static_cast<int>(finding.line.size() / 2) + 1};
    const auto written = solve::write_certificate(claim, budget, nullptr, most_lines);
    return written ? Json(*written) : Json();
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
            {"evidence", {{"line", finding.line}, {"fen", text_or_null(finding.fen)}}},
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
    const solve::Budget budget =
        solve::budget_of(solve::read_effort(report.effort).value_or(solve::Effort::review));
    for (const rules::Finding& finding : report.findings) {
        root["findings"].push_back(json_of(finding));
        if (report.detail == Detail::proofs) {
            root["findings"].back()["evidence"]["certificate"] = certificate_of(finding, budget);
        }
    }
    constexpr int indent = 2;
    return without_marks(root.dump(indent, ' ', true, Json::error_handler_t::replace)) + '\n';
}

} // namespace report
