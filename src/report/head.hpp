#pragma once
// The first line of a finding, shared by the writers for people.

#include "report/report.hpp"

#include <string>

namespace report {

/// "path:line:column: severity rule: message (new, proved)" without a line end.
[[nodiscard]] std::string first_line(const rules::Finding& finding, Colour colour);

/// Findings in the order readers want them: new or uncompared, still there, gone.
[[nodiscard]] std::vector<const rules::Finding*> grouped(const Report& report);

} // namespace report
