#pragma once
// A report as test cases: a suite a file, a case a puzzle.

#include "report/report.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace report {

struct Case {
    enum class Outcome : std::uint8_t { passed, failed, unreadable, open };
    std::string name; ///< unique in its suite
    std::size_t line = 1;
    std::vector<const rules::Finding*> findings; ///< without those gone
    [[nodiscard]] Outcome outcome() const;
    /// The gravest of what is new or uncompared, the first of several.
    [[nodiscard]] const rules::Finding* first_fault() const;
    /// The first that says what stayed open.
    [[nodiscard]] const rules::Finding* first_open() const;
};

/// What a change is blamed for: new or uncompared, and more than a note.
[[nodiscard]] bool is_fault(const rules::Finding& finding);

struct Suite {
    std::string file;
    std::vector<Case> cases; ///< what concerns the file itself, then puzzles by line; never empty
    [[nodiscard]] std::size_t count(Case::Outcome outcome) const;
};

/// Sorted by file. Puzzles without findings are there when the report has their summaries.
[[nodiscard]] std::vector<Suite> suites_of(const Report& report);

} // namespace report
