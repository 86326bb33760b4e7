#pragma once
// What the puzzles checked are like: how many of each chapter, motif, side, goal, length and certainty.

#include "report/escapers.hpp"
#include "report/report.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace report {

struct CountTable {
    struct Row {
        std::string name;
        std::size_t puzzles = 0;
    };
    std::string_view by; ///< "chapter"
    std::vector<Row> rows;
};

/// From the report's summaries. Chapters are files, by path; lengths and certainties have their own order;
/// motifs and goals are sorted by count, then by name. A puzzle counts once for each motif its printed play
/// shows.
[[nodiscard]] std::vector<CountTable> overview_of(const Report& report);

/// The tables below each other in the same columns, no wider than `columns` cells (0: unlimited) but for long
/// names; an empty line behind.
[[nodiscard]] Written<Plain> overview_text(const Report& report, std::size_t columns);

} // namespace report
