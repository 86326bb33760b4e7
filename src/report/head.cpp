#include "report/head.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace report {
namespace {

std::string_view sgr_of(const rules::Finding& finding) {
    if (finding.status == rules::Status::gone) {
        return "32"; // green
    }
    switch (finding.severity) {
    case rules::Severity::error:
        return "1;31"; // bold red
    case rules::Severity::warning:
        return "1;33"; // bold yellow
    case rules::Severity::note:
    case rules::Severity::off:
        break;
    }
    return "1;36"; // bold cyan
}

std::string in_words(const rules::Finding& finding) {
    std::string words(rules::name(finding.status));
    if (finding.certainty) {
        words += words.empty() ? "" : ", ";
        words += solve::name(*finding.certainty);
    }
    return words.empty() ? words : " (" + words + ")";
}

int rank_of(rules::Status status) {
    return status == rules::Status::gone ? 2 : status == rules::Status::still ? 1 : 0;
}

} // namespace

std::string first_line(const rules::Finding& finding, Colour colour) {
    std::string severity(rules::name(finding.severity));
    if (colour == Colour::yes) {
        severity = fmt::format("\x1b[{}m{}\x1b[0m", sgr_of(finding), severity);
    }
    return fmt::format("{}:{}:{}: {} {}: {}{}", harmless(finding.file), finding.begin.line,
                       finding.begin.column, severity, harmless(finding.rule), harmless(finding.message),
                       in_words(finding));
}

std::vector<const rules::Finding*> grouped(const Report& report) {
    std::vector<const rules::Finding*> findings;
    findings.reserve(report.findings.size());
    for (const rules::Finding& finding : report.findings) {
        findings.push_back(&finding);
    }
    std::stable_sort(findings.begin(), findings.end(),
                     [](const auto* a, const auto* b) { return rank_of(a->status) < rank_of(b->status); });
    return findings;
}

Counts count(const Report& report) {
    Counts counts;
    for (const rules::Finding& finding : report.findings) {
        counts.fresh += finding.status == rules::Status::fresh ? 1U : 0U;
        counts.still += finding.status == rules::Status::still ? 1U : 0U;
        if (finding.status == rules::Status::gone) {
            ++counts.gone;
            continue;
        }
        counts.error += finding.severity == rules::Severity::error ? 1U : 0U;
        counts.warning += finding.severity == rules::Severity::warning ? 1U : 0U;
        counts.note += finding.severity == rules::Severity::note ? 1U : 0U;
    }
    return counts;
}

} // namespace report
