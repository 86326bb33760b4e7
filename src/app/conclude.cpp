#include "app/commands.hpp"
#include "app/output.hpp"

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

/// More warnings than are borne, where a number is named.
bool too_many_warnings(const report::Report& report, const std::optional<std::size_t>& most) {
    const auto warnings =
        std::count_if(report.findings.begin(), report.findings.end(), [](const auto& finding) {
            const bool there =
                finding.status == rules::Status::none || finding.status == rules::Status::fresh;
            return there && finding.severity == rules::Severity::warning;
        });
    return most && static_cast<std::size_t>(warnings) > *most;
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

int conclude(const report::Report& report, const CheckOptions& options, const rules::Catalogue& catalogue,
             const Streams& streams, const Environment& environment, Conclusion so_far) {
    tell_remarks(report, options, streams);
    for (Error& error : write_reports(report, catalogue, options, streams, environment)) {
        so_far.errors.push_back(std::move(error));
    }
    tell(streams.err, so_far.errors);
    const bool failed = so_far.gate == Gate::failed || gate_of(report, options.gate) == Gate::failed ||
                        too_many_warnings(report, options.most_warnings);
    return exit_status(so_far.errors, failed ? Gate::failed : Gate::passed);
}

} // namespace app
