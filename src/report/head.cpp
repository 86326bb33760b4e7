#include "report/head.hpp"
#include "report/utf8.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace report {
namespace {

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

void wrap(Written<Plain>& line, std::size_t used, Untrusted text, std::size_t indent, std::size_t columns) {
    if (columns == 0) {
        line << text;
        return;
    }
    std::string_view rest = text.bytes();
    bool at_start = true;
    while (!rest.empty()) {
        const std::size_t blank = std::min(rest.find(' '), rest.size());
        const Untrusted word(rest.substr(0, blank));
        rest.remove_prefix(std::min(blank + 1, rest.size()));
        const std::size_t cells = width(harmless(word.bytes()));
        if (cells == 0) {
            continue;
        }
        const std::size_t gap = at_start ? 0 : 1;
        if (used + gap + cells > columns && used > indent) {
            line << "\n";
            line.times(indent, " ");
            used = indent;
        } else {
            line.times(gap, " ");
            used += gap;
        }
        line << word;
        used += cells;
        at_start = false;
    }
}

Written<Plain> set_off(const Written<Plain>& text, Literal sgr, const Look& look) {
    Written<Plain> toned;
    if (look.colour == Colour::no || text.empty()) {
        return toned << text;
    }
    return toned << sgr << text << "\x1b[0m";
}

Literal tone_of(const rules::Finding& finding) {
    constexpr Literal bold = "\x1b[1m";
    if (finding.status == rules::Status::gone) {
        return bold;
    }
    switch (finding.severity) {
    case rules::Severity::error:
        return "\x1b[1;31m"; // red
    case rules::Severity::warning:
        return "\x1b[1;35m"; // magenta
    case rules::Severity::note:
    case rules::Severity::off:
        break;
    }
    return bold;
}

Written<Plain> first_line(const rules::Finding& finding, const Look& look) {
    Written<Plain> place;
    place << Untrusted(finding.file) << ":" << finding.begin.line << ":" << finding.begin.column << ":";
    Written<Plain> severity;
    severity << Untrusted(rules::name(finding.severity));
    const std::size_t used = width(place.text()) + 1 + severity.size();
    Written<Plain> line;
    line << set_off(place, "\x1b[1m", look) << " " << set_off(severity, tone_of(finding), look) << " ";
    constexpr std::size_t indent = 4;
    wrap(line, used + 1, Untrusted(finding.rule + ": " + finding.message + in_words(finding)), indent,
         look.width);
    return line;
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

std::string how_to_fix(const rules::Finding& finding) {
    if (!finding.fix || finding.status == rules::Status::gone) {
        return {};
    }
    return finding.fix->kind == rules::Fix::Kind::safe ? "sidelint fix"
                                                       : "sidelint fix --apply " + finding.fingerprint;
}

std::string plural(std::size_t count, std::string_view one) {
    return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

} // namespace report
