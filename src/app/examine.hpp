#pragma once
// From what is looked at to what there is to tell.

#include "app/judge.hpp"
#include "app/memory.hpp"
#include "app/options.hpp"
#include "app/subject.hpp"
#include "report/report.hpp"
#include "solve/endgame_tables.hpp"

namespace app {

/// What a run works with: endgame tables, the memory of earlier runs, jobs.
struct Means {
    Means(const CheckOptions& options, const Environment& environment);
    /// What a load may ask for; whole files only when nobody else asks for their puzzles.
    [[nodiscard]] Recall recall(const CheckOptions& options, rules::Summarise summarise);

    solve::EndgameTables endgames;
    Memory memory;
    std::size_t jobs;
};

/// The number of jobs asked for, else as many as are worth starting.
[[nodiscard]] std::size_t jobs_of(const CheckOptions& options, const Environment& environment);

/// Judges a subject, with progress on a terminal. Its own errors and ours are put behind `errors`.
[[nodiscard]] report::Report examine(const Subject& subject, const rules::Catalogue& catalogue, Means& means,
                                     rules::Summarise summarise, const CheckOptions& options,
                                     const Streams& streams, Errors& errors);

/// What two commands work over: everything judged by the rules, without a line for every puzzle.
struct Examined {
    rules::Catalogue catalogue;
    Subject subject;
    report::Report report;
    Errors errors; ///< what could not be read or judged; the rest stands
};

/// Loads by `load` (load_files, load_states) and examines; an error when there is nothing to examine.
[[nodiscard]] board::Result<Examined, Errors> load_and_examine(decltype(load_files)& load,
                                                               const CheckOptions& options,
                                                               const Streams& streams,
                                                               const Environment& environment);

} // namespace app
