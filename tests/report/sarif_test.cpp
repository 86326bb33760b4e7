#include "catch.hpp"
#include "outside.hpp"
#include "sample.hpp"

#include <nlohmann/json.hpp>

using Json = nlohmann::ordered_json;

namespace {

const rules::Catalogue& catalogue() {
    static const auto read = rules::Catalogue::read(rules::WithExamples::no);
    REQUIRE(read);
    return *read;
}

std::string written(const report::Report& report, const report::SarifOptions& options = {}) {
    return report::sarif(report, catalogue(), options);
}

Json run_of(const report::Report& report, const report::SarifOptions& options = {}) {
    const Json log = Json::parse(written(report, options));
    CHECK(log["version"] == "2.1.0");
    REQUIRE(log["runs"].size() == 1);
    return log["runs"][0];
}

} // namespace

TEST_CASE("sarif: valid by the standard's own schema, in full, empty and hostile") {
    const std::string schema = outside::schema("sarif-schema-2.1.0.json");
    CHECK(outside::json_faults(written(sample::mixed(), {"nightly", true, 100}), schema).empty());
    CHECK(outside::json_faults(written(report::Report()), schema).empty());
    CHECK(outside::json_faults(written(sample::hostile()), schema).empty());
    Json broken = Json::parse(written(sample::plain()));
    broken["runs"][0]["results"][0].erase("message");
    CHECK_FALSE(outside::json_faults(broken.dump(), schema).empty());
    CHECK(Json::parse(written(sample::plain()))["$schema"] == Json::parse(schema)["id"]);
}

TEST_CASE("sarif: a result") {
    const Json run = run_of(sample::mixed());
    CHECK(run["columnKind"] == "unicodeCodePoints");
    const Json& missing = run["results"][0];
    const Json& cook = run["results"][1];
    CHECK(cook["ruleId"] == "key/cook");
    CHECK(cook["level"] == "error");
    CHECK(cook["message"]["text"] == "Qd8# solves it as well as the key Ra8#");
    CHECK(cook["partialFingerprints"] == Json{{"sidelintFinding/v1", "00000000000000a1"}});
    CHECK(cook["baselineState"] == "new");
    REQUIRE(cook["locations"].size() == 1);
    const Json& place = cook["locations"][0];
    CHECK(place["physicalLocation"]["artifactLocation"]["uri"] == "sets/first%20term.yaml");
    CHECK(place["physicalLocation"]["region"] ==
          Json{{"startLine", 5}, {"startColumn", 14}, {"endLine", 5}, {"endColumn", 18}});
    CHECK(place["logicalLocations"][0]["fullyQualifiedName"] == "sets/first term.yaml/harbour-001");
    CHECK(cook["properties"]["certainty"] == "searched");
    CHECK(missing["level"] == "warning");
    CHECK(run["results"][3]["baselineState"] == "unchanged");
    CHECK_FALSE(run["results"][3]["locations"][0].contains("logicalLocations")); // about the file
    CHECK(run["results"][4]["level"] == "note");
    CHECK(run["results"][4]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] ==
          "sets/zweite%20%C3%9Cbung.pgn");
    CHECK_FALSE(run_of(sample::plain())["results"][0].contains("baselineState"));
}

TEST_CASE("sarif: every rule is there, sorted, and results point at theirs") {
    const Json run = run_of(sample::mixed());
    const Json& rules = run["tool"]["driver"]["rules"];
    REQUIRE(rules.size() == catalogue().rules().size());
    std::string before;
    for (const Json& rule : rules) {
        const std::string id = rule["id"];
        INFO(id);
        CHECK(before < id);
        before = id;
        // What GitHub shows of them ("SARIF support for code scanning", 2025): empty strings count as
        // missing.
        for (const char* text : {"shortDescription", "fullDescription", "help"}) {
            CHECK_FALSE(rule[text]["text"].get<std::string>().empty());
        }
        CHECK(rule["shortDescription"]["text"].get<std::string>().size() <= 1024);
        CHECK(rule["fullDescription"]["text"].get<std::string>().size() <= 1024);
        CHECK(rule["properties"]["tags"].is_array());
        CHECK(rule["properties"]["tags"][0].is_string());
    }
    for (const Json& result : run["results"]) {
        CHECK(rules[result["ruleIndex"].get<std::size_t>()]["id"] == result["ruleId"]);
    }
}

TEST_CASE("sarif: what is gone, the category, and a run that could not be completed") {
    CHECK(run_of(sample::mixed())["results"].size() == 5);
    const Json all = run_of(sample::mixed(), {"", true, 100});
    REQUIRE(all["results"].size() == 6);
    CHECK(all["results"][2]["baselineState"] == "absent");
    CHECK_FALSE(all.contains("automationDetails"));
    CHECK(run_of(sample::plain(), {"part-1", false, 100})["automationDetails"]["id"] == "part-1/");

    report::Report report;
    CHECK(run_of(report)["results"] == Json::array());
    CHECK(run_of(report)["invocations"][0]["executionSuccessful"] == true);
    report.complete = false;
    report.remarks = {"a link, left out"};
    const Json invocation = run_of(report)["invocations"][0];
    CHECK(invocation["executionSuccessful"] == false);
    CHECK(invocation["toolExecutionNotifications"][0]["message"]["text"] == "a link, left out");
}

TEST_CASE("sarif: of more than a run may have, the gravest are written and the others counted") {
    const Json run = run_of(sample::mixed(), {"", false, 2});
    REQUIRE(run["results"].size() == 2);
    CHECK(run["results"][0]["ruleId"] == "key/cook");
    CHECK(run["results"][1]["ruleId"] == "key/refuted");
    const std::string told = run["invocations"][0]["toolExecutionNotifications"].back()["message"]["text"];
    CHECK(told.starts_with("3 findings left out"));
}

TEST_CASE("sarif: hostile text comes back, but for bytes that are no UTF-8 and for links") {
    std::string wanted = sample::hostile_text();
    wanted.replace(wanted.find('\xFF'), 1, "\xEF\xBF\xBD");
    const Json result = run_of(sample::hostile())["results"][0];
    CHECK(result["properties"]["puzzle"] == wanted);
    wanted.insert(wanted.find("](") + 1, 1, ' ');
    CHECK(result["message"]["text"] == wanted);
    const std::string uri = result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"];
    CHECK(uri.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~/%") ==
          std::string::npos);
}
