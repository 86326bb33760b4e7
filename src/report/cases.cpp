#include "report/cases.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string_view>

namespace report {
namespace {

constexpr std::string_view file_itself = "the file itself";

/// A suite in the making.
struct Gathered {
    std::vector<Case> cases;
    std::map<std::string_view, std::vector<std::size_t>> by_puzzle; ///< id to its cases

    Case& add(std::string_view puzzle, std::size_t line) {
        by_puzzle[puzzle].push_back(cases.size());
        cases.push_back({std::string(puzzle.empty() ? file_itself : puzzle), line, {}});
        return cases.back();
    }
    /// Of several puzzles of one id the last that begins no later than the finding.
    Case& case_of(const rules::Finding& finding) {
        const auto found = by_puzzle.find(finding.puzzle);
        if (found == by_puzzle.end()) {
            return add(finding.puzzle, finding.puzzle.empty() ? 0 : finding.begin.line);
        }
        const auto& candidates = found->second;
        const auto later = std::find_if(candidates.begin() + 1, candidates.end(),
                                        [&](std::size_t i) { return cases[i].line > finding.begin.line; });
        return cases[*(later - 1)];
    }
};

void make_names_unique(std::vector<Case>& cases) {
    std::set<std::string> taken;
    for (Case& one : cases) {
        if (taken.insert(one.name).second) {
            continue;
        }
        const std::string name = fmt::format("{} (line {})", one.name, one.line);
        one.name = name;
        for (std::size_t nth = 2; !taken.insert(one.name).second; ++nth) {
            one.name = fmt::format("{} ({})", name, nth);
        }
    }
}

} // namespace

bool is_fault(const rules::Finding& finding) {
    const bool here = finding.status == rules::Status::none || finding.status == rules::Status::fresh;
    return here && finding.severity >= rules::Severity::warning;
}

const rules::Finding* Case::first_fault() const {
    const rules::Finding* gravest = nullptr;
    for (const rules::Finding* finding : findings) {
        if (is_fault(*finding) && (gravest == nullptr || finding->severity > gravest->severity)) {
            gravest = finding;
        }
    }
    return gravest;
}

const rules::Finding* Case::first_open() const {
    const auto open = std::find_if(findings.begin(), findings.end(), [](const rules::Finding* finding) {
        return finding->certainty == solve::Certainty::open;
    });
    return open == findings.end() ? nullptr : *open;
}

Case::Outcome Case::outcome() const {
    if (const rules::Finding* fault = first_fault()) {
        return fault->rule == "file/unreadable" ? Outcome::unreadable : Outcome::failed;
    }
    return first_open() != nullptr ? Outcome::open : Outcome::passed;
}

std::size_t Suite::count(Case::Outcome outcome) const {
    return static_cast<std::size_t>(std::count_if(
        cases.begin(), cases.end(), [outcome](const Case& one) { return one.outcome() == outcome; }));
}

std::vector<Suite> suites_of(const Report& report) {
    std::map<std::string_view, Gathered> gathered;
    for (const rules::PuzzleSummary& puzzle : report.summaries) {
        gathered[puzzle.file].add(puzzle.id, puzzle.line);
    }
    for (const rules::Finding& finding : report.findings) {
        if (finding.status != rules::Status::gone) {
            gathered[finding.file].case_of(finding).findings.push_back(&finding);
        }
    }
    std::vector<Suite> suites;
    for (auto& [file, suite] : gathered) {
        std::stable_sort(suite.cases.begin(), suite.cases.end(),
                         [](const Case& a, const Case& b) { return a.line < b.line; });
        make_names_unique(suite.cases);
        suites.push_back({std::string(file), std::move(suite.cases)});
    }
    return suites;
}

} // namespace report
