#include "app/baseline.hpp"
#include "app/cache_folder.hpp"
#include "app/commands.hpp"
#include "app/examine.hpp"
#include "app/output.hpp"
#include "app/progress.hpp"
#include "app/proofs.hpp"
#include "solve/endgame_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

namespace app {
namespace {

Gate gate_of(const report::Report& report, std::optional<rules::Severity> lowest) {
    const auto counts = [&](const rules::Finding& finding) {
        const bool there = finding.status == rules::Status::none || finding.status == rules::Status::fresh;
        return there && lowest && finding.severity >= *lowest;
    };
    return std::any_of(report.findings.begin(), report.findings.end(), counts) ? Gate::failed : Gate::passed;
}

/// A text report ends with its remarks; beside other formats they go to standard error.
void tell_remarks(const report::Report& report, const CheckOptions& options, const Streams& streams) {
    const bool told = std::any_of(options.outputs.begin(), options.outputs.end(), [](const Output& output) {
        return output.kind == ReportKind::text && output.file.empty();
    });
    if (told || options.quiet) {
        return;
    }
    if (!report.against_name.empty()) {
        streams.err << "sidelint: compared with " << report::harmless(report.against_name) << '\n';
    }
    for (const std::string& remark : report.remarks) {
        streams.err << "sidelint: remark: " << report::harmless(remark) << '\n';
    }
}

} // namespace

int run_check(const CheckOptions& options, const Streams& streams, const Environment& environment) {
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    if (!catalogue) {
        return end_with(streams, std::array{Error{Error::Kind::internal, catalogue.error(), {}, {}}});
    }
    std::optional<std::vector<report::BaselineEntry>> baseline;
    if (options.baseline) {
        auto loaded = load_baseline(*options.baseline, environment);
        if (!loaded) {
            return end_with(streams, std::array{loaded.error()});
        }
        baseline = std::move(loaded).value();
    }
    const std::size_t jobs =
        options.jobs != 0 ? options.jobs : std::max<std::size_t>(environment.processors, 1);
    const LoadedSubject subject = options.wants_history()
                                      ? load_states(options, environment, *catalogue, jobs)
                                      : load_files(options, environment, *catalogue, jobs);
    if (!subject) {
        return end_with(streams, subject.error());
    }
    const auto folder = options.no_cache ? std::nullopt : cache_folder(environment, options.cache);
    const solve::EndgameTables endgames(folder);
    Memory memory(folder);
    rules::Policy policy = subject->policy;
    policy.settings.endgames = &endgames;
    Errors errors;
    report::Report report;
    {
        const bool shown = streams.err_is == Terminal::yes && !options.quiet;
        Progress progress(streams.err, shown ? Progress::Shown::yes : Progress::Shown::no);
        const auto summarise = wants_every_puzzle(options) ? rules::Summarise::yes : rules::Summarise::no;
        Memory* const known = memory.works() ? &memory : nullptr;
        report = examine(*subject, Judge{*catalogue, policy, summarise, jobs, progress, known}, errors);
    }
    Gate baseline_gate = Gate::passed;
    if (baseline) {
        const Answered answered = accept(report, *subject, *catalogue, *baseline);
        for (std::string& remark : remarks_on(answered, report, *options.baseline)) {
            report.remarks.push_back(std::move(remark));
        }
        if (options.strict_baseline && !answered.stale.empty()) {
            baseline_gate = Gate::failed;
            streams.err << fmt::format("sidelint: {0}: {1} of its entries no longer answer to anything\n"
                                       "  sidelint baseline prune {0}\n",
                                       report::harmless(*options.baseline), answered.stale.size());
        }
    }
    report.detail = options.detail;
    if (report.detail == report::Detail::proofs) {
        for (Error& error : write_proofs(report, policy, jobs)) {
            errors.push_back(std::move(error));
        }
    }
    report.complete = errors.empty();
    report.overview = options.overview;
    tell_remarks(report, options, streams);
    for (Error& error : write_reports(report, *catalogue, options, streams, environment)) {
        errors.push_back(std::move(error));
    }
    tell(streams.err, errors);
    const bool failed = baseline_gate == Gate::failed || gate_of(report, options.gate) == Gate::failed;
    return exit_status(errors, failed ? Gate::failed : Gate::passed);
}

} // namespace app
