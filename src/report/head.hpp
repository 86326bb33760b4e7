#pragma once
// The parts of a finding that writers for people share.

#include "report/escapers.hpp"
#include "report/report.hpp"

#include <optional>
#include <string>
#include <vector>

namespace report {

/// The text, where colour is wanted behind that SGR sequence (ECMA-48, 8.3.117) and ended by its reset.
[[nodiscard]] Written<Plain> set_off(const Written<Plain>& text, Literal sgr, const Look& look);
/// What sets off a finding's severity. Yellow, green and cyan cannot be read on white, blue not on black.
[[nodiscard]] Literal tone_of(const rules::Finding& finding);

/// "path:line:column: severity rule: message (new, proved)" without a line end; with a width continued on
/// indented lines.
[[nodiscard]] Written<Plain> first_line(const rules::Finding& finding, const Look& look = {});

/// The source line with the place in question underlined, two lines; cut around the place when it is wider
/// than the look allows. Empty when there is nothing to show.
[[nodiscard]] Written<Plain> excerpt(const rules::Finding& finding, const Look& look);

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
