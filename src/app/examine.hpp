#pragma once
// From what is looked at to what there is to tell.

#include "app/judge.hpp"
#include "app/subject.hpp"
#include "report/report.hpp"

namespace app {

/// Judges a subject. Its own errors and ours are put behind `errors`.
[[nodiscard]] report::Report examine(const Subject& subject, const Judge& judge, Errors& errors);

} // namespace app
