// GitLab's Code Quality report: a JSON array. Entries of equal fingerprint would be shown as one.

#include "report/json_parts.hpp"

#include <fmt/format.h>

#include <map>

namespace report {
namespace {

std::string_view severity_of(rules::Severity severity) {
    switch (severity) {
    case rules::Severity::error:
        return "major";
    case rules::Severity::warning:
        return "minor";
    case rules::Severity::note:
    case rules::Severity::off:
        break;
    }
    return "info";
}

} // namespace

std::string code_quality(const Report& report) {
    Json entries = Json::array();
    std::map<std::string_view, std::size_t> seen;
    for (const rules::Finding& finding : report.findings) {
        if (finding.status == rules::Status::gone) {
            continue;
        }
        const std::size_t nth = ++seen[finding.fingerprint];
        entries.push_back(
            {{"description", finding.rule + ": " + finding.message}, // check_name is not displayed
             {"check_name", finding.rule},
             {"fingerprint", nth == 1 ? finding.fingerprint : fmt::format("{}-{}", finding.fingerprint, nth)},
             {"severity", severity_of(finding.severity)},
             {"location",
              {{"path", finding.file},
               {"lines", {{"begin", finding.begin.line}, {"end", finding.end.line}}}}}});
    }
    constexpr int indent = 2;
    return dumped(entries, indent) + '\n';
}

} // namespace report
