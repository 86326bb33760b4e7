#include "catch.hpp"
#include "sample.hpp"

#include <nlohmann/json.hpp>

using OrderedJson = nlohmann::ordered_json;

namespace {

std::vector<std::string> keys_of(const OrderedJson& object) {
    std::vector<std::string> keys;
    for (const auto& [key, value] : object.items()) {
        keys.push_back(key);
    }
    return keys;
}

using Keys = std::vector<std::string>;

bool has_type(const OrderedJson& value, const std::string& type) {
    return (type == "object" && value.is_object()) || (type == "array" && value.is_array()) ||
           (type == "string" && value.is_string()) || (type == "integer" && value.is_number_integer()) ||
           (type == "number" && value.is_number()) || (type == "boolean" && value.is_boolean()) ||
           (type == "null" && value.is_null());
}

/// The part of JSON Schema that the report's schema uses; appends a line for each violation.
void check_schema(const OrderedJson& schema, const OrderedJson& value, const std::string& at, Keys& faults) {
    if (schema.contains("const") && schema["const"] != value) {
        faults.push_back(at + ": another constant");
    }
    if (schema.contains("enum") &&
        std::find(schema["enum"].begin(), schema["enum"].end(), value) == schema["enum"].end()) {
        faults.push_back(at + ": not in the enumeration: " + value.dump());
    }
    if (schema.contains("type")) {
        const OrderedJson types =
            schema["type"].is_array() ? schema["type"] : OrderedJson::array({schema["type"]});
        if (std::none_of(types.begin(), types.end(),
                         [&](const OrderedJson& t) { return has_type(value, t); })) {
            faults.push_back(at + ": wrong type: " + value.dump());
        }
    }
    if (schema.contains("minimum") && value.is_number() && value < schema["minimum"]) {
        faults.push_back(at + ": too small");
    }
    if (value.is_object() && schema.contains("properties")) {
        for (const auto& name : schema.value("required", OrderedJson::array())) {
            if (!value.contains(name.get<std::string>())) {
                faults.push_back(at + ": missing " + name.get<std::string>());
            }
        }
        for (const auto& [name, inner] : value.items()) {
            if (!schema["properties"].contains(name)) {
                faults.push_back(at + ": unknown key " + name);
                continue;
            }
            check_schema(schema["properties"][name], inner, at + "." + name, faults);
        }
    }
    if (value.is_array() && schema.contains("items")) {
        for (const auto& inner : value) {
            check_schema(schema["items"], inner, at + "[]", faults);
        }
    }
}

Keys faults_of(const std::string& written) {
    Keys faults;
    check_schema(OrderedJson::parse(report::json_schema()), OrderedJson::parse(written), "", faults);
    return faults;
}

rules::PuzzleSummary summary() {
    rules::PuzzleSummary summary;
    summary.id = "harbour-001";
    summary.file = "sets/first term.yaml";
    summary.line = 3;
    summary.fen = "7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 1";
    summary.goal = "mate in 1";
    summary.goal_stated = true;
    summary.key = rules::PuzzleSummary::Key{"Ra8#", "mates", solve::Certainty::proved, std::nullopt, 1};
    summary.motifs = {{"back-rank-mate",
                       1,
                       true,
                       motif::Strength::main,
                       solve::Certainty::proved,
                       {board::Square::g8},
                       "the rook on d8 mates the king on g8"}};
    return summary;
}

} // namespace

TEST_CASE("json: the shape, key by key") {
    const OrderedJson json = OrderedJson::parse(report::json(sample::plain()));
    CHECK(keys_of(json) == Keys{"tool", "run", "summary", "findings"});
    CHECK(json["tool"] == OrderedJson{{"name", "sidelint"}, {"version", "9.9.9"}});
    CHECK(keys_of(json["run"]) == Keys{"effort", "against"});
    CHECK(json["run"]["effort"] == "review");
    CHECK(json["run"]["against"].is_null());
    CHECK(keys_of(json["summary"]) == Keys{"files", "puzzles", "findings", "history", "accepted"});
    CHECK(json["summary"]["files"] == 2);
    CHECK(json["summary"]["puzzles"] == 36);
    CHECK(json["summary"]["findings"] == OrderedJson{{"error", 1}, {"warning", 1}, {"note", 0}});
    CHECK(json["summary"]["history"] == OrderedJson{{"new", 0}, {"still", 0}, {"gone", 0}});

    REQUIRE(json["findings"].size() == 2);
    const OrderedJson& cook = json["findings"][0];
    CHECK(keys_of(cook) == Keys{"rule", "severity", "puzzle", "file", "line", "column", "end_line",
                                "end_column", "message", "certainty", "evidence", "status", "fingerprint",
                                "fix"});
    CHECK(cook["rule"] == "key/cook");
    CHECK(cook["severity"] == "error");
    CHECK(cook["puzzle"] == "harbour-001");
    CHECK(cook["file"] == "sets/first term.yaml");
    CHECK(cook["line"] == 5);
    CHECK(cook["column"] == 14);
    CHECK(cook["end_line"] == 5);
    CHECK(cook["end_column"] == 18);
    CHECK(cook["message"] == "Qd8# solves it as well as the key Ra8#");
    CHECK(cook["certainty"] == "searched");
    CHECK(cook["evidence"] == OrderedJson{{"line", {"Qd8#"}},
                                          {"fen", "7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 1"},
                                          {"squares", OrderedJson::array()}});
    CHECK(cook["status"].is_null());
    CHECK(cook["fingerprint"] == "00000000000000a1");
    CHECK(cook["fix"].is_null());

    const OrderedJson& file = json["findings"][1];
    CHECK(file["puzzle"].is_null());
    CHECK(file["certainty"].is_null());
    CHECK(file["evidence"] ==
          OrderedJson{{"line", OrderedJson::array()}, {"fen", nullptr}, {"squares", OrderedJson::array()}});
}

TEST_CASE("json: against another state") {
    const OrderedJson json = OrderedJson::parse(report::json(sample::compared()));
    CHECK(json["run"]["against"] == "0123456789abcdef0123456789abcdef01234567");
    CHECK(json["summary"]["history"] == OrderedJson{{"new", 1}, {"still", 1}, {"gone", 1}});
    CHECK(json["findings"][0]["status"] == "gone");
    CHECK(json["findings"][1]["status"] == "new");
    CHECK(json["findings"][2]["status"] == "still");
}

TEST_CASE("json: puzzles only when asked for") {
    report::Report report = sample::plain();
    report.detail = report::Detail::puzzles;
    CHECK(OrderedJson::parse(report::json(report))["puzzles"] == OrderedJson::array());
    report.summaries = {summary(), summary()};
    report.summaries[1].key =
        rules::PuzzleSummary::Key{"Nf7+", "wins", solve::Certainty::searched, 310, std::nullopt};
    const OrderedJson json = OrderedJson::parse(report::json(report));
    CHECK(keys_of(json) == Keys{"tool", "run", "summary", "puzzles", "findings"});
    const OrderedJson& puzzle = json["puzzles"][0];
    CHECK(keys_of(puzzle) ==
          Keys{"id", "file", "line", "fen", "goal", "goal_stated", "goal_from", "key", "motifs", "moves"});
    CHECK(puzzle["key"] == OrderedJson{{"san", "Ra8#"},
                                       {"verdict", "mates"},
                                       {"certainty", "proved"},
                                       {"score", nullptr},
                                       {"mate_in", 1},
                                       {"mate_at_most", false}});
    CHECK(puzzle["motifs"] ==
          OrderedJson::array({OrderedJson{{"motif", "back-rank-mate"},
                                          {"ply", 1},
                                          {"declared", true},
                                          {"strength", "main"},
                                          {"certainty", "proved"},
                                          {"squares", OrderedJson::array({"g8"})},
                                          {"why", "the rook on d8 mates the king on g8"}}}));
    CHECK(json["puzzles"][1]["key"]["score"] == 3.1);
    CHECK(json["puzzles"][1]["key"]["mate_in"].is_null());
    CHECK(report::json(report).find("\"score\": 3.1,") != std::string::npos);
    CHECK(faults_of(report::json(report)).empty());
}

TEST_CASE("json: with proofs every finding has its certificate, or why it has none") {
    report::Report report = sample::compared();
    report.detail = report::Detail::proofs;
    report.proofs.resize(report.findings.size());
    report.proofs[0].certificate = "sidelint certificate 1\nfen ...\n";
    report.proofs[1].refusal = "too_long";
    const OrderedJson json = OrderedJson::parse(report::json(report));
    REQUIRE(json["findings"].size() > 2);
    CHECK(keys_of(json["findings"][0]["evidence"]) ==
          Keys{"line", "fen", "squares", "certificate", "certificate_refused"});
    CHECK(json["findings"][0]["evidence"]["certificate"] == "sidelint certificate 1\nfen ...\n");
    CHECK(json["findings"][0]["evidence"]["certificate_refused"].is_null());
    CHECK(json["findings"][1]["evidence"]["certificate"].is_null());
    CHECK(json["findings"][1]["evidence"]["certificate_refused"] == "too_long");
    CHECK(json["findings"][2]["evidence"]["certificate"].is_null());
    CHECK(json["findings"][2]["evidence"]["certificate_refused"].is_null());
    CHECK(faults_of(report::json(report)).empty());
    report.proofs[1].refusal = "tired";
    CHECK_FALSE(faults_of(report::json(report)).empty());
}

TEST_CASE("json: what is written fits the schema, in full and empty") {
    CHECK(faults_of(report::json(sample::plain())).empty());
    CHECK(faults_of(report::json(sample::compared())).empty());
    report::Report nothing;
    nothing.effort = "review";
    CHECK(faults_of(report::json(nothing)).empty());
    CHECK(OrderedJson::parse(report::json(nothing))["findings"] == OrderedJson::array());
    nothing.effort = "enormous";
    CHECK_FALSE(faults_of(report::json(nothing)).empty());
}

TEST_CASE("json: hostile text comes back as it was, but for bytes that are no UTF-8") {
    const report::Report hostile = sample::hostile();
    const std::string written = report::json(hostile);
    CHECK(std::all_of(written.begin(), written.end(),
                      [](char c) { return c == '\n' || (c >= 0x20 && c < 0x7F); }));
    std::string wanted = hostile.findings[0].message;
    wanted.replace(wanted.find('\xFF'), 1, "\xEF\xBF\xBD");
    const OrderedJson json = OrderedJson::parse(written);
    CHECK(json["findings"][0]["message"] == wanted);
    CHECK(json["findings"][0]["evidence"]["line"][0] == wanted);
    CHECK(json["puzzles"][0]["id"] == wanted);
}
