#pragma once
// A part of a report, as a file: what check --shard wrote and sidelint merge joins.

#include "app/shard.hpp"
#include "app/status.hpp"
#include "app/subject.hpp"
#include "report/report.hpp"

#include <span>
#include <string>

namespace app {

struct Part {
    Shard shard;
    std::string made; ///< hash of all that parts of one run have in common
    report::Report report;
};

/// The hash of program, settings and everything that is looked at, of which a shard is a part.
[[nodiscard]] std::string made_of(const Subject& subject);

[[nodiscard]] std::string write_part(const Part& part);
/// `name` is for the Error.
[[nodiscard]] Result<Part> read_part(const std::string& text, const std::string& name);

/// The report as one run would have made it. An Error when a part is missing, there twice, or made from
/// something else. `names` are the parts', for the Error.
[[nodiscard]] Result<report::Report> joined(std::vector<Part> parts, std::span<const std::string> names);

} // namespace app
