#pragma once
// The parts of a finding that writers for people share.

#include "report/escapers.hpp"
#include "report/report.hpp"

#include <optional>
#include <string>
#include <vector>

namespace report {

/// "path:line:column: severity rule: message (new, proved)" without a line end; with a width continued on
/// indented lines.
[[nodiscard]] Written<Plain> first_line(const rules::Finding& finding, const Look& look = {});

/// The source line with the place in question underlined, two lines; cut around the place when it is wider
/// than `columns` (0: unlimited). Empty when there is nothing to show.
[[nodiscard]] Written<Plain> excerpt(const rules::Finding& finding, std::size_t columns);

/// The source line with the place in question told apart, for formats that can set it off.
struct MarkedLine {
    bool cut_before = false; ///< the line begins earlier
    std::string before, place, after;
};
[[nodiscard]] std::optional<MarkedLine> marked_line(const rules::Finding& finding);

/// Appends `text` to a line that is `used` cells long, continued lines indented, none wider than `columns`
/// where words allow it; 0: as it is.
void wrap(Written<Plain>& line, std::size_t used, Untrusted text, std::size_t indent, std::size_t columns);

/// Findings in the order readers want them: new or uncompared, still there, gone.
[[nodiscard]] std::vector<const rules::Finding*> grouped(const Report& report);

/// The command that corrects it; empty when none does.
[[nodiscard]] std::string how_to_fix(const rules::Finding& finding);

/// "3 puzzles", "1 puzzle".
[[nodiscard]] std::string plural(std::size_t count, std::string_view one);

} // namespace report
