#include "report/json_parts.hpp"

#include "collection/text.hpp"
#include "report/overview.hpp"

#include <fmt/format.h>

namespace report {
namespace {

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

/// Offsets are bytes of the file, the end one past the last.
Json fix_of(const rules::Finding& finding) {
    if (!finding.fix || finding.status == rules::Status::gone) {
        return {};
    }
    Json edits = Json::array();
    for (const collection::Edit& edit : finding.fix->edits) {
        edits.push_back({{"begin", edit.span.begin}, {"end", edit.span.end}, {"text", edit.bytes}});
    }
    return {{"kind", rules::name(finding.fix->kind)}, {"edits", edits}};
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
            {"fix", fix_of(finding)}};
}

/// No CI runner finds a mark in it: they obey "##[" anywhere in a log; escaped it means the same to every
/// JSON reader.
std::string without_marks(std::string dumped) {
    constexpr std::string_view escaped = "\\u0023";
    for (std::size_t at = dumped.find("##"); at != std::string::npos; at = dumped.find("##", at)) {
        dumped.replace(at + 1, 1, escaped);
        at += 1 + escaped.size();
    }
    return dumped;
}

} // namespace

std::string dumped(const Json& json, int indent) {
    return without_marks(json.dump(indent, ' ', true, Json::error_handler_t::replace));
}

Json text_or_null(std::string_view text) {
    return text.empty() ? Json() : Json(text);
}

Json tool_json(const Report& report) {
    return {{"name", "sidelint"}, {"version", report.version}};
}

Json run_json(const Report& report) {
    return {{"effort", report.effort}, {"against", value_or_null(report.against)}};
}

Json summary_json(const Report& report) {
    const Counts counts = count(report);
    return {{"files", report.files},
            {"puzzles", report.puzzles},
            {"findings", {{"error", counts.error}, {"warning", counts.warning}, {"note", counts.note}}},
            {"history", {{"new", counts.fresh}, {"still", counts.still}, {"gone", counts.gone}}},
            {"accepted", report.accepted}};
}

Json puzzle_json(const rules::PuzzleSummary& puzzle) {
    Json key;
    if (puzzle.key) {
        const auto& told = *puzzle.key;
        key = {{"san", told.san},
               {"verdict", told.verdict},
               {"certainty", solve::name(told.certainty)},
               {"score", told.score ? Json(static_cast<double>(*told.score) / 100.0) : Json()},
               {"mate_in", value_or_null(told.mate_in)},
               {"mate_at_most", told.mate_at_most}};
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
    return {{"id", puzzle.id},
            {"file", puzzle.file},
            {"line", puzzle.line},
            {"fen", puzzle.fen},
            {"goal", puzzle.goal},
            {"goal_stated", puzzle.goal_stated},
            {"goal_from", text_or_null(puzzle.goal_from)},
            {"key", key},
            {"motifs", motifs},
            {"moves", puzzle.moves}};
}

Json overview_json(const Report& report) {
    Json tables = Json::array();
    for (const CountTable& table : overview_of(report)) {
        Json rows = Json::array();
        for (const CountTable::Row& row : table.rows) {
            rows.push_back({{"name", row.name}, {"puzzles", row.puzzles}});
        }
        tables.push_back({{"by", table.by}, {"rows", std::move(rows)}});
    }
    return tables;
}

Json finding_json(const Report& report, std::size_t index) {
    const rules::Finding& finding = report.findings[index];
    Json json = json_of(finding);
    if (!collection::is_utf8(finding.file)) {
        json["file_uri"] = uri_of(finding.file);
    }
    if (report.detail == Detail::proofs) {
        const Proof proof = index < report.proofs.size() ? report.proofs[index] : Proof();
        json["evidence"]["certificate"] = text_or_null(proof.certificate);
        json["evidence"]["certificate_refused"] = text_or_null(proof.refusal);
    }
    return json;
}

std::string uri_of(std::string_view path) {
    constexpr std::string_view unreserved = // and '/', which parts a path here as it does in a URI
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~/";
    std::string uri;
    uri.reserve(path.size());
    for (const char c : path) {
        if (unreserved.find(c) != std::string_view::npos) {
            uri += c;
        } else {
            uri += fmt::format("%{:02X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
        }
    }
    return uri;
}

} // namespace report
