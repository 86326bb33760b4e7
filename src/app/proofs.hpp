#pragma once
// The certificates that a report carries (--detail proofs).

#include "app/status.hpp"
#include "report/report.hpp"
#include "rules/policy.hpp"

#include <cstddef>

namespace app {

/// Fills report.proofs: for every finding that is proved and whose play ends in mate, or would by the endgame
/// tables, the certificate of that mate, with the budget the finding's file is checked with. Returns our own
/// faults.
[[nodiscard]] std::vector<Error> write_proofs(report::Report& report, const rules::Policy& policy,
                                              std::size_t jobs);

} // namespace app
