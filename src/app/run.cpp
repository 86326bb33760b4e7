#include "app/run.hpp"

#include "app/commands.hpp"
#include "app/output.hpp"
#include "config/config.hpp"
#include "report/changes.hpp"

#include <fmt/format.h>

#include <exception>
#include <filesystem>

namespace app {
namespace {

/// Calls the command that was asked for.
struct Dispatch {
    const Streams& streams;
    const Environment& environment;

    int operator()(const Printed& printed) const { return print_and_end(streams, printed.text); }
    int operator()(const CheckOptions& options) const { return run_check(options, streams, environment); }
    int operator()(const FixOptions& options) const { return run_fix(options, streams, environment); }
    int operator()(const DiffOptions& options) const { return run_diff(options, streams, environment); }
    int operator()(const BaselineOptions& options) const {
        return run_baseline(options, streams, environment);
    }
    int operator()(const SolveOptions& options) const { return run_solve(options, streams, environment); }
    int operator()(const DrawOptions& options) const { return run_draw(options, streams); }
    int operator()(const MergeOptions& options) const { return run_merge(options, streams, environment); }
    int operator()(const VerifyOptions& options) const { return run_verify(options, streams, environment); }
    int operator()(const ExplainOptions& options) const { return run_explain(options, streams, environment); }
    int operator()(const HookOptions& options) const { return run_hook(options, streams, environment); }
    int operator()(const InitOptions& /*options*/) const { return run_init(streams, environment); }
    int operator()(const SchemaOptions& options) const { return run_schema(options, streams); }
    int operator()(const ManualOptions& /*options*/) const { return run_manual(streams, environment); }
};

} // namespace

int print_and_end(const Streams& streams, std::string_view text) {
    return end_with(streams, print(streams, text));
}

int end_with(const Streams& streams, std::span<const Error> errors) {
    tell(streams.err, errors);
    return exit_status(errors, Gate::passed);
}

int run_init(const Streams& streams, const Environment& environment) {
    const std::string path = (std::filesystem::path(environment.folder) / config::file_name).string();
    std::error_code ignored;
    if (std::filesystem::exists(std::filesystem::symlink_status(path, ignored))) {
        return end_with(streams, std::array{usage_error(fmt::format("{} is there already", path),
                                                        "remove it first to begin anew")});
    }
    if (const auto errors = write_file(path, "the configuration", config::starting_file()); !errors.empty()) {
        return end_with(streams, errors);
    }
    return print_and_end(streams,
                         fmt::format("Wrote {}: every key is explained there.\n", report::harmless(path)));
}

int run_schema(const SchemaOptions& options, const Streams& streams) {
    if (options.of == SchemaOptions::Of::report) {
        return print_and_end(streams, report::json_schema());
    }
    if (options.of == SchemaOptions::Of::changes) {
        return print_and_end(streams, report::changes_schema());
    }
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    if (!catalogue) {
        return end_with(streams, std::array{Error{Error::Kind::internal, catalogue.error(), {}, {}}});
    }
    return print_and_end(streams, config::schema(*catalogue));
}

int run(std::span<const std::string> arguments, const Streams& streams, const Environment& environment) {
    try {
        const auto command = read_command_line(arguments);
        if (!command) {
            return end_with(streams, std::array{command.error()});
        }
        return std::visit(Dispatch{streams, environment}, *command);
    } catch (const std::exception& fault) {
        return end_with(streams,
                        std::array{Error{Error::Kind::internal,
                                         fmt::format("internal error: {}", fault.what()),
                                         {},
                                         "please report this with the command line that led to it"}});
    }
}

} // namespace app
