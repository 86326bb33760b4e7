// ci/problem-matcher.json against the first lines of our text: what a CI host that reads logs by it would
// find. How it reads one (groups by number, `severity` of the matcher where the pattern has none) is common
// practice.
#include "catch.hpp"
#include "sample.hpp"

#include <nlohmann/json.hpp>

#include <fstream>
#include <regex>
#include <sstream>

namespace {

struct Matched {
    std::string file, severity, message;
    std::string line, column;
};

std::vector<Matched> matched(const std::string& log) {
    std::ifstream file(SIDELINT_SOURCE_DIR "/ci/problem-matcher.json");
    const nlohmann::json matchers = nlohmann::json::parse(file)["problemMatcher"];
    std::vector<Matched> all;
    std::istringstream lines(log);
    for (std::string line; std::getline(lines, line);) {
        for (const nlohmann::json& matcher : matchers) {
            const nlohmann::json& pattern = matcher["pattern"][0];
            std::smatch groups;
            if (std::regex_match(line, groups, std::regex(pattern["regexp"].get<std::string>()))) {
                const auto group = [&](const char* name) {
                    return groups[pattern[name].get<std::size_t>()].str();
                };
                all.push_back({group("file"),
                               pattern.contains("severity") ? group("severity")
                                                            : matcher["severity"].get<std::string>(),
                               group("message"), group("line"), group("column")});
            }
        }
    }
    return all;
}

} // namespace

TEST_CASE("problem matcher: every finding of a text report but those that are gone, and nothing else in it") {
    const report::Report report = sample::mixed();
    for (const std::string& log : {report::text(report), report::brief(report)}) {
        const std::vector<Matched> found = matched(log);
        CHECK(found.size() == report.findings.size() - report::count(report).gone);
        for (const rules::Finding& finding : report.findings) {
            const auto same = [&](const Matched& one) {
                const std::string severity = finding.severity == rules::Severity::note
                                                 ? "notice"
                                                 : std::string(rules::name(finding.severity));
                return one.file == finding.file && one.line == std::to_string(finding.begin.line) &&
                       one.column == std::to_string(finding.begin.column) && one.severity == severity &&
                       one.message.starts_with(finding.rule + ": " + finding.message);
            };
            INFO(finding.rule);
            CHECK(std::count_if(found.begin(), found.end(), same) ==
                  (finding.status == rules::Status::gone ? 0 : 1));
        }
    }
}

TEST_CASE("problem matcher: a stranger's text makes no line of its own") {
    report::Report report = sample::hostile();
    report.findings[0].rule = "key/cook";
    report.findings[0].puzzle += "\na.yaml:1:1: error key/cook: forged";
    report.findings[0].message += "\na.yaml:1:1: error key/cook: forged";
    const std::vector<Matched> found = matched(report::text(report));
    REQUIRE(found.size() == 1);
    CHECK(found[0].file != "a.yaml");
}
