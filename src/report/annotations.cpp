// Workflow commands of GitHub: what is shown beside the lines of a pull request. Of a step it shows ten
// errors, ten warnings and ten notices and drops the rest without a word, so the gravest come first and the
// last one counts the rest.

#include "report/cases.hpp"
#include "report/escapers.hpp"
#include "report/head.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace report {
namespace {

constexpr std::size_t shown_of_a_level = 10;

/// What is said at one place: of a puzzle all at once.
struct Annotation {
    std::vector<const rules::Finding*> findings; ///< the gravest first, never empty
    [[nodiscard]] const rules::Finding& head() const { return *findings.front(); }
};

/// What is new before what was there, errors before warnings.
bool graver(const rules::Finding& a, const rules::Finding& b) {
    const auto rank = [](const rules::Finding& finding) {
        return std::pair(finding.status == rules::Status::still ? 0 : 1, finding.severity);
    };
    return rank(a) > rank(b);
}

std::vector<Annotation> ranked(const std::vector<Suite>& suites) {
    std::vector<Annotation> annotations;
    for (const Suite& suite : suites) {
        for (const Case& one : suite.cases) {
            if (!one.findings.empty() && !one.findings.front()->puzzle.empty()) {
                annotations.push_back({one.findings});
                auto& findings = annotations.back().findings;
                std::stable_sort(findings.begin(), findings.end(),
                                 [](const auto* a, const auto* b) { return graver(*a, *b); });
                continue;
            }
            for (const rules::Finding* finding :
                 one.findings) { // about the file: each has a place of its own
                annotations.push_back({{finding}});
            }
        }
    }
    std::stable_sort(annotations.begin(), annotations.end(),
                     [](const Annotation& a, const Annotation& b) { return graver(a.head(), b.head()); });
    return annotations;
}

struct Level {
    rules::Severity severity;
    Literal command;
    Literal plural;
    std::size_t all = 0;
    std::size_t told = 0;
};

void add_place(Written<Command>& page, const rules::Finding& finding) {
    page << " file=" << Command::Property{Untrusted(finding.file)} << ",line=" << finding.begin.line
         << ",endLine=" << finding.end.line;
    if (finding.begin.line == finding.end.line) { // columns across lines would make it vanish
        page << ",col=" << finding.begin.column << ",endColumn=" << finding.end.column;
    }
}

std::string title_of(const Annotation& annotation) {
    const rules::Finding& head = annotation.head();
    std::string title = head.puzzle.empty() ? head.rule : fmt::format("{}: {}", head.puzzle, head.rule);
    const std::size_t more = annotation.findings.size() - 1;
    return more == 0 ? title : fmt::format("{} and {} more", title, more);
}

void add_message(Written<Command>& page, const Annotation& annotation) {
    const bool several = annotation.findings.size() > 1;
    Literal line_end = "";
    for (const rules::Finding* finding : annotation.findings) {
        page << line_end << Untrusted(several ? finding->rule + ": " + finding->message : finding->message);
        if (finding->status == rules::Status::still) {
            page << " (was there before)";
        }
        if (!finding->play.empty()) {
            page << "%0A    " << Untrusted(finding->play);
        }
        line_end = "%0A";
    }
}

} // namespace

std::string annotations(const Report& report) {
    const std::vector<Suite> suites = suites_of(report);
    const std::vector<Annotation> all = ranked(suites);
    std::array levels{Level{rules::Severity::error, "::error", " more places with errors"},
                      Level{rules::Severity::warning, "::warning", " more places with warnings"},
                      Level{rules::Severity::note, "::notice", " more places with notes"}};
    const auto level_of = [&](const Annotation& annotation) {
        return std::find_if(levels.begin(), levels.end(),
                            [&](const Level& level) { return level.severity == annotation.head().severity; });
    };
    for (const Annotation& annotation : all) {
        if (const auto level = level_of(annotation); level != levels.end()) {
            ++level->all;
        }
    }
    Written<Command> page;
    for (const Annotation& annotation : all) {
        const auto level = level_of(annotation);
        if (level == levels.end() || level->told == shown_of_a_level) {
            continue;
        }
        page << level->command;
        add_place(page, annotation.head());
        const std::string title = title_of(annotation);
        page << ",title=" << Command::Property{Untrusted(title)} << "::";
        add_message(page, annotation);
        if (++level->told == shown_of_a_level && level->all > level->told) {
            page << "%0Aand " << level->all - level->told << level->plural << ": see the log";
        }
        page << "\n";
    }
    return std::move(page).text();
}

} // namespace report
