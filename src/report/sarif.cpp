// SARIF 2.1.0 (OASIS standard with errata 01): one run, its rules from the catalogue.

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

Json json_of(const rules::RuleEntry& rule) {
    const std::string help = rule.why + "\n\nCertainty: " + rule.certainty + ".\n";
    return {{"id", rule.id},
            {"shortDescription", {{"text", rule.summary}}},
            {"fullDescription", {{"text", rule.why}}},
            {"help",
             {{"text", help + "Examples: sidelint explain " + rule.id},
              {"markdown", help + "Examples: `sidelint explain " + rule.id + "`"}}},
            {"defaultConfiguration", {{"level", level_of(rule.severity)}}},
            {"properties", properties_of(rule)}};
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
    Json location = {{"physicalLocation",
                      {{"artifactLocation", {{"uri", uri_of(finding.file)}}},
                       {"region",
                        {{"startLine", finding.begin.line},
                         {"startColumn", finding.begin.column},
                         {"endLine", finding.end.line},
                         {"endColumn", finding.end.column}}}}}};
    if (!finding.puzzle.empty()) {
        location["logicalLocations"] = Json::array(
            {{{"name", finding.puzzle}, {"fullyQualifiedName", finding.file + '/' + finding.puzzle}}});
    }
    return location;
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
    const auto rule = std::find_if(rules.begin(), rules.end(),
                                   [&](const rules::RuleEntry& entry) { return entry.id == finding.rule; });
    if (rule != rules.end()) {
        result["ruleIndex"] = rule - rules.begin();
    }
    result["level"] = level_of(finding.severity);
    result["message"] = {{"text", without_links(finding.message)}};
    result["locations"] = Json::array({location_of(finding)});
    result["partialFingerprints"] = {{"sidelintFinding/v1", finding.fingerprint}};
    if (const auto state = baseline_state(finding.status)) {
        result["baselineState"] = *state;
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
        rules.push_back(json_of(rule));
    }
    const auto findings = chosen(report, options);
    Json results = Json::array();
    for (const rules::Finding* finding : findings) {
        results.push_back(json_of(*finding, catalogue.rules()));
    }
    const std::size_t wanted = report.findings.size() - (options.all ? 0 : count(report).gone);
    Json run = {
        {"tool",
         {{"driver", {{"name", "sidelint"}, {"version", report.version}, {"rules", std::move(rules)}}}}},
        {"invocations", Json::array({invocation_of(report, wanted - findings.size())})},
        {"columnKind", "unicodeCodePoints"},
        {"properties", run_json(report)},
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
