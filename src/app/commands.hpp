#pragma once
// One function a subcommand. Each prints and returns the exit status.

#include "app/options.hpp"
#include "app/run.hpp"

namespace app {

[[nodiscard]] int run_check(const CheckOptions& options, const Streams& streams,
                            const Environment& environment);
[[nodiscard]] int run_fix(const FixOptions& options, const Streams& streams, const Environment& environment);
[[nodiscard]] int run_diff(const DiffOptions& options, const Streams& streams,
                           const Environment& environment);
[[nodiscard]] int run_baseline(const BaselineOptions& options, const Streams& streams,
                               const Environment& environment);
[[nodiscard]] int run_merge(const MergeOptions& options, const Streams& streams,
                            const Environment& environment);
[[nodiscard]] int run_solve(const SolveOptions& options, const Streams& streams,
                            const Environment& environment);
[[nodiscard]] int run_draw(const DrawOptions& options, const Streams& streams);
[[nodiscard]] int run_verify(const VerifyOptions& options, const Streams& streams,
                             const Environment& environment);
[[nodiscard]] int run_explain(const ExplainOptions& options, const Streams& streams,
                              const Environment& environment);
[[nodiscard]] int run_hook(const HookOptions& options, const Streams& streams,
                           const Environment& environment);
[[nodiscard]] int run_init(const Streams& streams, const Environment& environment);
[[nodiscard]] int run_schema(const SchemaOptions& options, const Streams& streams);
[[nodiscard]] int run_manual(const Streams& streams, const Environment& environment);

// What check does instead of a report.
[[nodiscard]] int run_why(const CheckOptions& options, const Streams& streams,
                          const Environment& environment);
[[nodiscard]] int run_show_config(const CheckOptions& options, const Streams& streams,
                                  const Environment& environment);

/// What a run has come to before its reports are written.
struct Conclusion {
    std::vector<Error> errors;
    Gate gate = Gate::passed;
};
/// Writes the reports, tells what went wrong, and gives the exit status.
[[nodiscard]] int conclude(const report::Report& report, const CheckOptions& options,
                           const rules::Catalogue& catalogue, const Streams& streams,
                           const Environment& environment, Conclusion so_far);

/// Prints `text` and ends with what comes of that.
[[nodiscard]] int print_and_end(const Streams& streams, std::string_view text);
/// Tells the errors and ends with their status.
[[nodiscard]] int end_with(const Streams& streams, std::span<const Error> errors);

} // namespace app
