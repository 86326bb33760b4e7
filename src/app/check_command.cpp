#include "app/baseline.hpp"
#include "app/commands.hpp"
#include "app/examine.hpp"
#include "app/output.hpp"
#include "app/part.hpp"
#include "app/proofs.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <ostream>

namespace app {
namespace {

/// Takes what a baseline accepts out of the report.
Gate hold_against(const std::vector<report::BaselineEntry>& baseline, const CheckOptions& options,
                  const Subject& subject, const rules::Catalogue& catalogue, const Streams& streams,
                  report::Report& report) {
    const Answered answered = accept(report, subject, catalogue, baseline);
    for (std::string& remark : remarks_on(answered, report, *options.baseline)) {
        report.remarks.push_back(std::move(remark));
    }
    if (!options.strict_baseline || answered.stale.empty()) {
        return Gate::passed;
    }
    streams.err << fmt::format("sidelint: {0}: {1} of its entries no longer answer to anything\n"
                               "  sidelint baseline prune {0}\n",
                               report::harmless(*options.baseline), answered.stale.size());
    return Gate::failed;
}

/// The files a later merge asks for.
void write_parts(const report::Report& report, const CheckOptions& options, const Subject& subject,
                 const Environment& environment, Errors& errors) {
    for (const Output& output : options.outputs) {
        if (output.kind == ReportKind::part) {
            const std::string path = (std::filesystem::path(environment.folder) / output.file).string();
            for (Error& error :
                 write_file(path, "the part", write_part({options.shard, made_of(subject), report}))) {
                errors.push_back(std::move(error));
            }
        }
    }
}

} // namespace

int run_check(const CheckOptions& asked, const Streams& streams, const Environment& environment) {
    if (asked.show_config) {
        return run_show_config(asked, streams, environment);
    }
    const CheckOptions options = with_input(asked, streams);
    if (options.why) {
        return run_why(options, streams, environment);
    }
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
    const auto summarise = wants_every_puzzle(options) ? rules::Summarise::yes : rules::Summarise::no;
    Means means(options, environment);
    const Recall recall = means.recall(options, summarise);
    LoadedSubject loaded = options.wants_history()
                               ? load_states(options, environment, *catalogue, recall, means.jobs)
                               : load_files(options, environment, *catalogue, recall, means.jobs);
    if (!loaded) {
        return end_with(streams, loaded.error());
    }
    Subject subject = std::move(loaded).value();
    subject.shard = options.shard;
    Conclusion conclusion;
    report::Report report =
        examine(subject, *catalogue, means, summarise, options, streams, conclusion.errors);
    if (baseline) {
        conclusion.gate = hold_against(*baseline, options, subject, *catalogue, streams, report);
    }
    report.detail = options.detail;
    if (report.detail == report::Detail::proofs) {
        rules::Policy policy = subject.policy;
        policy.settings.endgames = &means.endgames;
        for (Error& error : write_proofs(report, policy, means.jobs)) {
            conclusion.errors.push_back(std::move(error));
        }
    }
    report.complete = conclusion.errors.empty();
    report.overview = options.overview;
    write_parts(report, options, subject, environment, conclusion.errors);
    return conclude(report, options, *catalogue, streams, environment, std::move(conclusion));
}

} // namespace app
