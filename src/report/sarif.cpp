// SARIF 2.1.0 (OASIS standard with errata 01): one run, its rules from the catalogue.

#include "collection/text.hpp"
#include "report/head.hpp"
#include "report/json_parts.hpp"

#include <algorithm>
#include <optional>

namespace report {
namespace {

std::string_view level_of(rules::Severity severity) {
    return severity == rules::Severity::off ? "none" : rules::name(severity);
}

/// In a message "[text](target)" would be a link.
std::string without_links(std::string text) {
    for (std::size_t at = text.find("]("); at != std::string::npos; at = text.find("](", at)) {
        text.insert(at + 1, 1, ' ');
    }
    return text;
}

/// The properties that GitHub's code scanning sorts by.
Json properties_of(const rules::RuleEntry& rule) {
    const bool searched = rule.certainty.find("searched") != std::string::npos;
    const bool graver = rule.severity == rules::Severity::error || rule.severity == rules::Severity::warning;
    return {{"tags", Json::array({rule.id.substr(0, rule.id.find('/'))})},
            {"precision", searched ? "high" : "very-high"},
            {"problem.severity", graver ? rules::name(rule.severity) : "recommendation"}};
}

std::optional<std::size_t> index_of(std::string_view id, const std::vector<rules::RuleEntry>& rules) {
    const auto rule = std::find_if(rules.begin(), rules.end(),
                                   [&](const rules::RuleEntry& entry) { return entry.id == id; });
    return rule == rules.end() ? std::nullopt : std::optional(static_cast<std::size_t>(rule - rules.begin()));
}

/// The rules that the catalogue names beside it.
Json relationships_of(const rules::RuleEntry& rule, const std::vector<rules::RuleEntry>& rules) {
    Json relationships = Json::array();
    for (const std::string& other : rule.see) {
        if (const auto index = index_of(other, rules)) {
            relationships.push_back(
                {{"target", {{"id", other}, {"index", *index}}}, {"kinds", Json::array({"relevant"})}});
        }
    }
    return relationships;
}

Json json_of(const rules::RuleEntry& rule, const std::vector<rules::RuleEntry>& rules) {
    const std::string help = rule.why + "\n\nCertainty: " + rule.certainty + ".\n";
    return {{"id", rule.id},
            {"shortDescription", {{"text", rule.summary}}},
            {"fullDescription", {{"text", rule.why}}},
            {"help",
             {{"text", help + "Examples: sidelint explain " + rule.id},
              {"markdown", help + "Examples: `sidelint explain " + rule.id + "`"}}},
            {"defaultConfiguration", rule.severity == rules::Severity::off
                                         ? Json{{"enabled", false}}
                                         : Json{{"level", level_of(rule.severity)}}},
            {"relationships", relationships_of(rule, rules)},
            {"properties", properties_of(rule)}};
}

/// What paths are relative to; where that is on disk is nobody's business.
constexpr const char* root_name = "SRCROOT";

Json artifact_of(const rules::Finding& finding) {
    return {{"uri", uri_of(finding.file)}, {"uriBaseId", root_name}};
}

Json region_of(collection::Place begin, collection::Place end) {
    return {{"startLine", begin.line},
            {"startColumn", begin.column},
            {"endLine", end.line},
            {"endColumn", end.column}};
}

std::optional<std::string_view> baseline_state(rules::Status status) {
    switch (status) {
    case rules::Status::fresh:
        return "new";
    case rules::Status::still:
        return "unchanged";
    case rules::Status::gone:
        return "absent";
    case rules::Status::none:
        break;
    }
    return std::nullopt;
}

Json location_of(const rules::Finding& finding) {
    Json location = {
        {"physicalLocation",
         {{"artifactLocation", artifact_of(finding)}, {"region", region_of(finding.begin, finding.end)}}}};
    if (!finding.puzzle.empty()) {
        location["logicalLocations"] = Json::array(
            {{{"name", finding.puzzle}, {"fullyQualifiedName", finding.file + '/' + finding.puzzle}}});
    }
    return location;
}

/// What `sidelint fix` would write, by lines and columns; nothing when these are not known, or when the bytes
/// cannot stand in JSON.
std::optional<Json> fixes_of(const rules::Finding& finding) {
    if (!finding.fix || finding.status == rules::Status::gone ||
        finding.fix->places.size() != finding.fix->edits.size()) {
        return std::nullopt;
    }
    Json replacements = Json::array();
    for (std::size_t i = 0; i < finding.fix->edits.size(); ++i) {
        const rules::Fix::Stretch& place = finding.fix->places[i];
        if (!collection::is_utf8(finding.fix->edits[i].bytes)) {
            return std::nullopt;
        }
        replacements.push_back({{"deletedRegion", region_of(place.begin, place.end)},
                                {"insertedContent", {{"text", finding.fix->edits[i].bytes}}}});
    }
    const bool safe = finding.fix->kind == rules::Fix::Kind::safe;
    return Json::array({{{"description",
                          {{"text", safe ? "The puzzle means what it meant: sidelint fix makes this change."
                                         : "The puzzle may mean something else: look at it first."}}},
                         {"artifactChanges", Json::array({{{"artifactLocation", artifact_of(finding)},
                                                           {"replacements", replacements}}})}}});
}

Json properties_of(const rules::Finding& finding) {
    Json properties;
    const auto add = [&](const char* name, std::string_view text) {
        if (!text.empty()) {
            properties[name] = text;
        }
    };
    add("puzzle", finding.puzzle);
    add("certainty", finding.certainty ? solve::name(*finding.certainty) : "");
    add("play", finding.play);
    add("fen", finding.fen);
    add("cure", finding.cure);
    return properties;
}

Json json_of(const rules::Finding& finding, const std::vector<rules::RuleEntry>& rules) {
    Json result = {{"ruleId", finding.rule}};
    if (const auto index = index_of(finding.rule, rules)) {
        result["ruleIndex"] = *index;
    }
    // What stayed open has no `kind` "open": that would forbid a level (3.27.10), and GitHub sorts by it.
    result["level"] = level_of(finding.severity);
    result["message"] = {{"text", without_links(finding.message)}};
    result["locations"] = Json::array({location_of(finding)});
    result["partialFingerprints"] = {{"sidelintFinding/v1", finding.fingerprint}};
    if (const auto state = baseline_state(finding.status)) {
        result["baselineState"] = *state;
    }
    if (auto fixes = fixes_of(finding)) {
        result["fixes"] = std::move(*fixes);
    }
    if (Json properties = properties_of(finding); !properties.empty()) {
        result["properties"] = std::move(properties);
    }
    return result;
}

/// What is written, in order; of more than code scanning takes, the gravest.
std::vector<const rules::Finding*> chosen(const Report& report, const SarifOptions& options) {
    std::vector<const rules::Finding*> findings;
    for (const rules::Finding& finding : report.findings) {
        if (options.all || finding.status != rules::Status::gone) {
            findings.push_back(&finding);
        }
    }
    if (findings.size() > options.most) {
        std::stable_sort(findings.begin(), findings.end(),
                         [](const auto* a, const auto* b) { return a->severity > b->severity; });
        findings.resize(options.most);
        std::sort(findings.begin(), findings.end()); // they lie in one vector: back in its order
    }
    return findings;
}

Json notification_of(const std::string& text) {
    return {{"level", "note"}, {"message", {{"text", without_links(text)}}}};
}

Json invocation_of(const Report& report, std::size_t left_out) {
    Json notifications = Json::array();
    for (const std::string& remark : report.remarks) {
        notifications.push_back(notification_of(remark));
    }
    if (left_out > 0) {
        notifications.push_back(
            notification_of(plural(left_out, "finding") + " left out: code scanning takes no more of a run"));
    }
    return {{"executionSuccessful", report.complete},
            {"toolExecutionNotifications", std::move(notifications)}};
}

} // namespace

std::string sarif(const Report& report, const rules::Catalogue& catalogue, const SarifOptions& options) {
    Json rules = Json::array();
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        rules.push_back(json_of(rule, catalogue.rules()));
    }
    const auto findings = chosen(report, options);
    Json results = Json::array();
    for (const rules::Finding* finding : findings) {
        results.push_back(json_of(*finding, catalogue.rules()));
    }
    const std::size_t wanted = report.findings.size() - (options.all ? 0 : count(report).gone);
    Json properties = run_json(report);
    if (report.against) {
        properties["history"] = summary_json(report)["history"]; // what is gone may not be among the results
    }
    Json run = {
        {"tool",
         {{"driver",
           {{"name", "sidelint"},
            {"version", report.version},
            {"semanticVersion", report.version},
            {"rules", std::move(rules)}}}}},
        {"invocations", Json::array({invocation_of(report, wanted - findings.size())})},
        {"originalUriBaseIds", {{root_name, {{"description", {{"text", "The root of the repository."}}}}}}},
        {"columnKind", "unicodeCodePoints"},
        {"properties", std::move(properties)},
        {"results", std::move(results)}};
    if (!options.category.empty()) {
        run["automationDetails"] = {{"id", options.category + '/'}}; // what stands before the last '/' counts
    }
    const Json log = {
        {"$schema",
         "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"},
        {"version", "2.1.0"},
        {"runs", Json::array({std::move(run)})}};
    constexpr int indent = 2;
    return dumped(log, indent) + '\n';
}

} // namespace report
