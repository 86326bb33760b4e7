#pragma once
// Accepted findings: taken out of a report, and the file they stand in kept honest.

#include "app/judge.hpp"
#include "app/subject.hpp"
#include "report/baseline.hpp"
#include "report/report.hpp"

#include <string>
#include <vector>

namespace app {

/// The file as named from the working directory; one that is not there is an Error.
[[nodiscard]] Result<std::vector<report::BaselineEntry>> load_baseline(const std::string& file,
                                                                       const Environment& environment);

/// What a report finds, as entries.
[[nodiscard]] std::vector<report::BaselineEntry>
entries_of(const report::Report& report, const Subject& subject, const std::string& reason);

/// How the entries of a baseline answer to what was found.
struct Answered {
    std::vector<report::BaselineEntry> kept; ///< answered, or not asked about in this run
    std::vector<report::BaselineEntry>
        stale; ///< the rule ran on that puzzle, as far as before, and finds it no more
};

/// Takes the accepted findings out of the report and counts them there; those that are gone stay.
[[nodiscard]] Answered accept(report::Report& report, const Subject& subject,
                              const rules::Catalogue& catalogue,
                              const std::vector<report::BaselineEntry>& entries);

/// Remarks about stale entries, and about a baseline made by another version or with less effort.
[[nodiscard]] std::vector<std::string> remarks_on(const Answered& answered, const report::Report& report,
                                                  const std::string& file);

} // namespace app
