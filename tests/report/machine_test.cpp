// JSON Lines, Code Quality and JSON, read back by a library and by a program that are not ours.
#include "catch.hpp"
#include "outside.hpp"
#include "sample.hpp"

#include <nlohmann/json.hpp>

#include <set>
#include <sstream>

using OrderedJson = nlohmann::ordered_json;

namespace {

std::vector<OrderedJson> lines_of(const std::string& text) {
    std::vector<OrderedJson> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) {
        lines.push_back(OrderedJson::parse(line));
    }
    return lines;
}

/// As JSON must give the hostile text back.
std::string wanted() {
    std::string text = sample::hostile_text();
    text.replace(text.find('\xFF'), 1, "\xEF\xBF\xBD");
    return text;
}

} // namespace

TEST_CASE("json: another validator agrees with the schema, and with what is written") {
    report::Report report = sample::mixed();
    report.detail = report::Detail::puzzles;
    CHECK(outside::json_faults(report::json(report), report::json_schema()).empty());
    CHECK(outside::json_faults(report::json(sample::hostile()), report::json_schema()).empty());
    report.effort = "enormous";
    CHECK_FALSE(outside::json_faults(report::json(report), report::json_schema()).empty());
}

TEST_CASE("json: a path that is no UTF-8 can still be found") {
    report::Report report = sample::plain();
    CHECK_FALSE(OrderedJson::parse(report::json(report))["findings"][0].contains("file_uri"));
    report.findings[0].file = "a \xFF/\xC3\xA4.pgn";
    const OrderedJson finding = OrderedJson::parse(report::json(report))["findings"][0];
    CHECK(finding["file"] == "a \xEF\xBF\xBD/\xC3\xA4.pgn");
    CHECK(finding["file_uri"] == "a%20%FF/%C3%A4.pgn");
    CHECK(outside::json_faults(report::json(report), report::json_schema()).empty());
}

TEST_CASE("jsonl: an object a line, the same as in json") {
    report::Report report = sample::mixed();
    report.detail = report::Detail::puzzles;
    const OrderedJson whole = OrderedJson::parse(report::json(report));
    const auto lines = lines_of(report::json_lines(report));
    REQUIRE(lines.size() == 2 + whole["puzzles"].size() + whole["findings"].size());
    CHECK(lines.front()["type"] == "run");
    CHECK(lines.front()["tool"] == whole["tool"]);
    CHECK(lines.front()["run"] == whole["run"]);
    CHECK(lines.back()["type"] == "summary");
    OrderedJson puzzles = OrderedJson::array();
    OrderedJson findings = OrderedJson::array();
    for (OrderedJson line : lines) {
        const std::string type = line["type"];
        line.erase("type");
        if (type == "summary") {
            CHECK(line == whole["summary"]);
        } else if (type != "run") {
            (type == "puzzle" ? puzzles : findings).push_back(line);
        }
    }
    CHECK(puzzles == whole["puzzles"]);
    CHECK(findings == whole["findings"]);
    report.detail = report::Detail::findings;
    CHECK(lines_of(report::json_lines(report)).size() == 2 + report.findings.size());
}

TEST_CASE("jsonl: nothing found is a run and a summary; hostile text comes back") {
    const auto empty = lines_of(report::json_lines(report::Report()));
    REQUIRE(empty.size() == 2);
    CHECK(empty[1]["findings"] == OrderedJson{{"error", 0}, {"warning", 0}, {"note", 0}});
    const auto lines = lines_of(report::json_lines(sample::hostile()));
    REQUIRE(lines.size() == 4);
    CHECK(lines[2]["message"] == wanted());
    CHECK(lines[2]["puzzle"] == wanted());
}

// The facts of GitLab's documentation ("Code Quality", "Import Code Quality results", 2025).
TEST_CASE("code-quality: what GitLab asks of an entry") {
    const std::string written = report::code_quality(sample::mixed());
    CHECK(written.front() == '['); // no byte order mark
    const OrderedJson entries = OrderedJson::parse(written);
    REQUIRE(entries.size() == 5); // what is gone is no longer there
    const std::set<std::string> severities{"info", "minor", "major", "critical", "blocker"};
    std::set<std::string> fingerprints;
    for (const OrderedJson& entry : entries) {
        CHECK_FALSE(entry["description"].get<std::string>().empty());
        CHECK(severities.contains(entry["severity"]));
        CHECK(entry["location"]["lines"]["begin"] >= 1);
        const std::string path = entry["location"]["path"];
        CHECK_FALSE(path.starts_with("./"));
        CHECK_FALSE(path.starts_with("/"));
        CHECK(fingerprints.insert(entry["fingerprint"]).second);
    }
    CHECK(entries[0]["check_name"] == "theme/missing");
    CHECK(entries[0]["description"].get<std::string>().starts_with("theme/missing: "));
    CHECK(entries[0]["severity"] == "minor");
    CHECK(entries[1]["severity"] == "major");
    CHECK(entries[4]["severity"] == "info");
}

TEST_CASE("code-quality: equal fingerprints are told apart, the first keeps its own") {
    report::Report report = sample::plain();
    report.findings = {sample::cook(), sample::cook(), sample::cook()};
    const OrderedJson entries = OrderedJson::parse(report::code_quality(report));
    CHECK(entries[0]["fingerprint"] == "00000000000000a1");
    CHECK(entries[1]["fingerprint"] == "00000000000000a1-2");
    CHECK(entries[2]["fingerprint"] == "00000000000000a1-3");
}

TEST_CASE("code-quality: empty and hostile") {
    CHECK(OrderedJson::parse(report::code_quality(report::Report())) == OrderedJson::array());
    const OrderedJson entries = OrderedJson::parse(report::code_quality(sample::hostile()));
    CHECK(entries[0]["location"]["path"] == wanted());
    CHECK(entries[0]["description"] == wanted() + ": " + wanted());
}

TEST_CASE("the outside reader reads the hostile text as ours does") {
    const std::string script = "import json, sys; sys.stdout.buffer.write(json.load(open(sys.argv[1]))"
                               "['findings'][0]['message'].encode())";
    const auto ran =
        outside::run("/usr/bin/python3 -c \"" + script + "\" {0}", {report::json(sample::hostile())});
    CHECK(ran.status == 0);
    CHECK(ran.out == wanted());
}
