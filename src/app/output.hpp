#pragma once
// Gets reports to where they were asked for.

#include "app/options.hpp"
#include "app/run.hpp"
#include "report/report.hpp"

#include <vector>

namespace app {

/// Colour on standard output: what was asked for, then NO_COLOR, CLICOLOR_FORCE, then whether it is a
/// terminal.
[[nodiscard]] report::Colour colour_for(ColourChoice choice, const Streams& streams,
                                        const Environment& environment);

/// Cells a line may take on standard output: COLUMNS, else what the terminal says, 40 at least; 0 when that
/// is no terminal, or not known.
[[nodiscard]] std::size_t width_for(const Streams& streams, const Environment& environment);

/// Some report tells of puzzles that nothing is wrong with.
[[nodiscard]] bool wants_every_puzzle(const CheckOptions& options);

/// Writes every report, files first. Files appear whole or not at all; what GITHUB_STEP_SUMMARY names is
/// added to. A reader who closed the pipe is no error.
[[nodiscard]] std::vector<Error> write_reports(const report::Report& report,
                                               const rules::Catalogue& catalogue, const CheckOptions& options,
                                               const Streams& streams, const Environment& environment);

/// Writes to standard output; an Error unless all of it went out or the reader left.
[[nodiscard]] std::vector<Error> print(const Streams& streams, std::string_view text);

/// Writes `text` to a new file beside `path` and renames it; `path` may name a device, which is written to as
/// it is. `what` it is ("the report") stands in the errors.
[[nodiscard]] std::vector<Error> write_file(const std::string& path, std::string_view what,
                                            std::string_view text);

/// With what stands on standard input, when that is asked for.
[[nodiscard]] CheckOptions with_input(CheckOptions options, const Streams& streams);

} // namespace app
