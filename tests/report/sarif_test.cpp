#include "catch.hpp"
#include "outside.hpp"
#include "sample.hpp"

#include <nlohmann/json.hpp>

#include <set>

using OrderedJson = nlohmann::ordered_json;

namespace {

const rules::Catalogue& catalogue() {
    static const auto read = rules::Catalogue::read(rules::WithExamples::no);
    REQUIRE(read);
    return *read;
}

std::string written(const report::Report& report, const report::SarifOptions& options = {}) {
    return report::sarif(report, catalogue(), options);
}

OrderedJson run_of(const report::Report& report, const report::SarifOptions& options = {}) {
    const OrderedJson log = OrderedJson::parse(written(report, options));
    CHECK(log["version"] == "2.1.0");
    REQUIRE(log["runs"].size() == 1);
    return log["runs"][0];
}

/// A finding with a correction of two places, the second an insertion.
report::Report with_fix() {
    report::Report report = sample::plain();
    rules::Fix fix;
    fix.kind = rules::Fix::Kind::suggested;
    fix.edits = {{{40, 42}, "b \xC3\x9C"}, {{50, 50}, "x"}};
    fix.places = {{{5, 14}, {5, 16}}, {{6, 1}, {6, 1}}};
    report.findings[0].fix = fix;
    return report;
}

/// What the schema cannot say: rules of the standard's text (SARIF 2.1.0, OASIS Standard with errata 01;
/// section numbers from memory) that a log breaks.
std::vector<std::string> broken_rules(const OrderedJson& log) {
    std::vector<std::string> broken;
    const auto must = [&](bool holds, const std::string& rule) {
        if (!holds) {
            broken.push_back(rule);
        }
    };
    const OrderedJson& run = log["runs"][0];
    const OrderedJson& rules = run["tool"]["driver"]["rules"];
    const auto region = [&](const OrderedJson& at) {
        must(at["startLine"] >= 1 && at["startColumn"] >= 1, "3.30.5: lines and columns begin at 1");
        must(at["endLine"] >= at["startLine"], "3.30.7: endLine is not before startLine");
        must(at["endLine"] > at["startLine"] || at["endColumn"] >= at["startColumn"],
             "3.30.8: endColumn is not before startColumn");
    };
    const auto artifact = [&](const OrderedJson& at) {
        const std::string uri = at["uri"];
        must(uri.find_first_of("\\ #?") == std::string::npos, "3.4.3: a URI reference, with forward slashes");
        must(!uri.starts_with('/'), "3.4.4: no leading slash beneath a uriBaseId");
        must(run["originalUriBaseIds"].contains(at["uriBaseId"].get<std::string>()),
             "3.14.14: every uriBaseId is one of originalUriBaseIds");
    };
    must(run.contains("columnKind"), "3.14.17: columnKind where there are regions of text");
    must(!run.contains("automationDetails") || !run["automationDetails"]["id"].get<std::string>().empty(),
         "3.17.3: an id of parts");
    for (std::size_t i = 0; i < rules.size(); ++i) {
        for (std::size_t k = i + 1; k < rules.size(); ++k) {
            must(rules[i]["id"] != rules[k]["id"], "3.19.23: a rule stands there once");
        }
        for (const OrderedJson& other : rules[i]["relationships"]) {
            must(rules[other["target"]["index"].get<std::size_t>()]["id"] == other["target"]["id"],
                 "3.52.5: index and id name the same rule");
        }
        const OrderedJson& tags = rules[i]["properties"]["tags"];
        must(std::set<OrderedJson>(tags.begin(), tags.end()).size() == tags.size(), "3.8.2.2: no tag twice");
    }
    for (const OrderedJson& result : run["results"]) {
        must(!result["message"]["text"].get<std::string>().empty(), "3.11.8: a message has a text");
        must(result["message"]["text"].get<std::string>().find("](") == std::string::npos,
             "3.11.6: brackets in text make no link");
        must(rules[result["ruleIndex"].get<std::size_t>()]["id"] == result["ruleId"],
             "3.27.6: ruleIndex and ruleId name the same rule");
        for (const auto& [name, value] : result["partialFingerprints"].items()) {
            must(name.find("/v") != std::string::npos, "3.27.17: fingerprints carry a version");
        }
        for (const OrderedJson& location : result["locations"]) {
            artifact(location["physicalLocation"]["artifactLocation"]);
            region(location["physicalLocation"]["region"]);
        }
        for (const OrderedJson& fix : result.value("fixes", OrderedJson::array())) {
            must(fix["description"].contains("text"), "3.55.2: a fix is described");
            for (const OrderedJson& change : fix["artifactChanges"]) {
                artifact(change["artifactLocation"]);
                must(!change["replacements"].empty(), "3.56.3: a change replaces something");
                for (const OrderedJson& replacement : change["replacements"]) {
                    region(replacement["deletedRegion"]);
                    must(replacement["insertedContent"].contains("text"), "3.57.4: text for text");
                }
            }
        }
    }
    return broken;
}

} // namespace

TEST_CASE("sarif: the rules of the standard's text that its schema cannot say") {
    CHECK(broken_rules(OrderedJson::parse(written(sample::mixed(), {"nightly", true, 100}))).empty());
    CHECK(broken_rules(OrderedJson::parse(written(with_fix()))).empty());
    CHECK(broken_rules(OrderedJson::parse(written(report::Report()))).empty());
    OrderedJson broken = OrderedJson::parse(written(with_fix()));
    OrderedJson& result = broken["runs"][0]["results"][0];
    result["ruleIndex"] = 0;
    result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] = "/sets/first term.yaml";
    result["fixes"][0]["artifactChanges"][0]["replacements"][1]["deletedRegion"]["endColumn"] = 0;
    CHECK(broken_rules(broken).size() == 4);
}

TEST_CASE("sarif: a correction by lines and columns, and none where they are not known") {
    const OrderedJson result = run_of(with_fix())["results"][0];
    REQUIRE(result["fixes"].size() == 1);
    CHECK(result["fixes"][0]["description"]["text"] ==
          "The puzzle may mean something else: look at it first.");
    const OrderedJson& change = result["fixes"][0]["artifactChanges"][0];
    CHECK(change["artifactLocation"] == result["locations"][0]["physicalLocation"]["artifactLocation"]);
    REQUIRE(change["replacements"].size() == 2);
    CHECK(change["replacements"][0] ==
          OrderedJson{
              {"deletedRegion", {{"startLine", 5}, {"startColumn", 14}, {"endLine", 5}, {"endColumn", 16}}},
              {"insertedContent", {{"text", "b \xC3\x9C"}}}});
    CHECK(change["replacements"][1]["deletedRegion"]["endColumn"] == 1);
    report::Report report = with_fix();
    report.findings[0].fix->edits[0].bytes = "\xDC"; // Latin-1: JSON has no way to say it
    CHECK_FALSE(run_of(report)["results"][0].contains("fixes"));
    report = with_fix();
    report.findings[0].fix->places.clear();
    CHECK_FALSE(run_of(report)["results"][0].contains("fixes"));
    report = with_fix();
    report.findings[0].status = rules::Status::gone;
    CHECK_FALSE(run_of(report, {"", true, 100})["results"][0].contains("fixes"));
}

TEST_CASE("sarif: valid by the standard's own schema, in full, empty and hostile") {
    const std::string schema = outside::schema("sarif-schema-2.1.0.json");
    CHECK(outside::json_faults(written(sample::mixed(), {"nightly", true, 100}), schema).empty());
    CHECK(outside::json_faults(written(report::Report()), schema).empty());
    CHECK(outside::json_faults(written(sample::hostile()), schema).empty());
    CHECK(outside::json_faults(written(with_fix()), schema).empty());
    OrderedJson broken = OrderedJson::parse(written(sample::plain()));
    broken["runs"][0]["results"][0].erase("message");
    CHECK_FALSE(outside::json_faults(broken.dump(), schema).empty());
    CHECK(OrderedJson::parse(written(sample::plain()))["$schema"] == OrderedJson::parse(schema)["id"]);
}

TEST_CASE("sarif: a result") {
    const OrderedJson run = run_of(sample::mixed());
    CHECK(run["columnKind"] == "unicodeCodePoints");
    const OrderedJson& missing = run["results"][0];
    const OrderedJson& cook = run["results"][1];
    CHECK(cook["ruleId"] == "key/cook");
    CHECK(cook["level"] == "error");
    CHECK(cook["message"]["text"] == "Qd8# solves it as well as the key Ra8#");
    CHECK(cook["partialFingerprints"] == OrderedJson{{"sidelintFinding/v1", "00000000000000a1"}});
    CHECK(cook["baselineState"] == "new");
    REQUIRE(cook["locations"].size() == 1);
    const OrderedJson& place = cook["locations"][0];
    CHECK(place["physicalLocation"]["artifactLocation"] ==
          OrderedJson{{"uri", "sets/first%20term.yaml"}, {"uriBaseId", "SRCROOT"}});
    CHECK_FALSE(run["originalUriBaseIds"]["SRCROOT"].contains("uri")); // the same bytes on every machine
    CHECK(place["physicalLocation"]["region"] ==
          OrderedJson{{"startLine", 5}, {"startColumn", 14}, {"endLine", 5}, {"endColumn", 18}});
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
    const OrderedJson run = run_of(sample::mixed());
    const OrderedJson& rules = run["tool"]["driver"]["rules"];
    REQUIRE(rules.size() == catalogue().rules().size());
    std::string before;
    for (const OrderedJson& rule : rules) {
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
    for (const OrderedJson& result : run["results"]) {
        CHECK(rules[result["ruleIndex"].get<std::size_t>()]["id"] == result["ruleId"]);
    }
}

TEST_CASE("sarif: what is gone, the category, and a run that could not be completed") {
    CHECK(run_of(sample::mixed())["results"].size() == 5);
    const OrderedJson all = run_of(sample::mixed(), {"", true, 100});
    REQUIRE(all["results"].size() == 6);
    CHECK(all["results"][2]["baselineState"] == "absent");
    CHECK_FALSE(all.contains("automationDetails"));
    CHECK(run_of(sample::plain(), {"part-1", false, 100})["automationDetails"]["id"] == "part-1/");

    report::Report report;
    CHECK(run_of(report)["results"] == OrderedJson::array());
    CHECK(run_of(report)["invocations"][0]["executionSuccessful"] == true);
    report.complete = false;
    report.remarks = {"a link, left out"};
    const OrderedJson invocation = run_of(report)["invocations"][0];
    CHECK(invocation["executionSuccessful"] == false);
    CHECK(invocation["toolExecutionNotifications"][0]["message"]["text"] == "a link, left out");
}

TEST_CASE("sarif: of more than a run may have, the gravest are written and the others counted") {
    const OrderedJson run = run_of(sample::mixed(), {"", false, 2});
    REQUIRE(run["results"].size() == 2);
    CHECK(run["results"][0]["ruleId"] == "key/cook");
    CHECK(run["results"][1]["ruleId"] == "key/refuted");
    const std::string told = run["invocations"][0]["toolExecutionNotifications"].back()["message"]["text"];
    CHECK(told.starts_with("3 findings left out"));
}

TEST_CASE("sarif: hostile text comes back, but for bytes that are no UTF-8 and for links") {
    std::string wanted = sample::hostile_text();
    wanted.replace(wanted.find('\xFF'), 1, "\xEF\xBF\xBD");
    const OrderedJson result = run_of(sample::hostile())["results"][0];
    CHECK(result["properties"]["puzzle"] == wanted);
    wanted.insert(wanted.find("](") + 1, 1, ' ');
    CHECK(result["message"]["text"] == wanted);
    const std::string uri = result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"];
    CHECK(uri.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~/%") ==
          std::string::npos);
}
