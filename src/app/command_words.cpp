#include "app/command_words.hpp"

#include "rules/catalogue.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>

namespace app {
namespace {

constexpr std::size_t most_jobs = 1024;

Error unknown_value(std::string_view option, std::string_view value, const std::vector<std::string>& known) {
    const auto near = rules::nearest(value, known);
    return usage_error(fmt::format("{}: '{}' is none of {}", option, value, fmt::join(known, ", ")),
                       near.empty() ? "" : fmt::format("did you mean {}?", near.front()));
}

/// Index of `value` in `known`.
Result<std::size_t> pick(std::string_view option, std::string_view value,
                         const std::vector<std::string>& known) {
    const auto found = std::find(known.begin(), known.end(), value);
    if (found == known.end()) {
        return board::failure(unknown_value(option, value, known));
    }
    return static_cast<std::size_t>(found - known.begin());
}

/// In the order of ReportKind.
std::vector<std::string> format_names() {
    return {"text",         "brief",       "json",     "jsonl", "sarif", "junit",
            "code-quality", "annotations", "markdown", "html",  "part"};
}

/// Annotations are lines among others of a log: text may go with them, where a program reads nothing may.
bool share_standard_output(const std::vector<Output>& outputs) {
    std::size_t annotations = 0;
    std::size_t for_people = 0;
    std::size_t others = 0;
    for (const Output& output : outputs) {
        if (output.file.empty()) {
            const bool text = output.kind == ReportKind::text || output.kind == ReportKind::brief;
            ++(output.kind == ReportKind::annotations ? annotations : text ? for_people : others);
        }
    }
    return annotations <= 1 && (others == 0 ? for_people <= 1 : others + for_people + annotations == 1);
}

std::optional<Error> read_outputs(const std::vector<std::string>& formats, std::vector<Output>& outputs) {
    for (const std::string& format : formats) {
        const std::size_t equals = format.find('=');
        const auto kind = pick("--format", format.substr(0, equals), format_names());
        if (!kind) {
            return kind.error();
        }
        std::string file = equals == std::string::npos ? "" : format.substr(equals + 1);
        if (equals != std::string::npos && file.empty()) {
            return usage_error(fmt::format("--format {}: no file is named", format),
                               "--format json=report.json");
        }
        file = file == "-" ? "" : file;
        outputs.push_back({static_cast<ReportKind>(*kind), std::move(file)});
    }
    if (outputs.empty()) {
        outputs.push_back({});
    }
    if (!share_standard_output(outputs)) {
        return usage_error("only one --format can go to standard output, and annotations beside text",
                           "name files for the others: --format json=report.json");
    }
    return std::nullopt;
}

std::optional<Error> read_outputs(const std::vector<std::string>& formats,
                                  std::vector<DiffOptions::Output>& outputs) {
    std::size_t to_standard_output = 0;
    for (const std::string& format : formats) {
        const std::size_t equals = std::min(format.find('='), format.size());
        const auto kind =
            pick("--format", format.substr(0, equals), {"text", "json", "markdown", "html", "annotations"});
        if (!kind) {
            return kind.error();
        }
        std::string file = equals == format.size() ? "-" : format.substr(equals + 1);
        file = file == "-" ? "" : file;
        to_standard_output += file.empty() ? 1U : 0U;
        outputs.push_back({static_cast<DiffOptions::Kind>(*kind), std::move(file)});
    }
    if (outputs.empty()) {
        outputs.push_back({});
    }
    return to_standard_output > 1
               ? std::optional(usage_error("only one --format can go to standard output",
                                           "name files for the others: --format json=FILE"))
               : std::nullopt;
}

std::optional<Error> read_levels(const std::vector<std::string>& texts, CheckOptions& check) {
    for (const std::string& text : texts) {
        const std::size_t equals = text.find('=');
        if (equals == std::string::npos) {
            return usage_error(fmt::format("--rule {}: no level is named", text), "--rule key/cook=warning");
        }
        const auto level = rules::read_severity(text.substr(equals + 1));
        if (!level) {
            return unknown_value("--rule", text.substr(equals + 1), {"off", "note", "warning", "error"});
        }
        check.levels.emplace_back(text.substr(0, equals), *level);
    }
    return std::nullopt;
}

/// Leaves `number` as it is when there is no text.
std::optional<Error> read_number(std::string_view option, const std::string& text, std::size_t least,
                                 std::size_t most, std::size_t& number) {
    if (text.empty()) {
        return std::nullopt;
    }
    std::size_t read = 0;
    const char* const end = text.data() + text.size();
    const auto [read_to, fault] = std::from_chars(text.data(), end, read);
    if (fault != std::errc() || read_to != end || read < least || read > most) {
        return usage_error(fmt::format("{}: '{}' is no number from {} to {}", option, text, least, most));
    }
    number = read;
    return std::nullopt;
}

Result<std::optional<solve::Effort>> read_effort(const std::string& text) {
    if (text.empty()) {
        return std::optional<solve::Effort>();
    }
    if (const auto effort = solve::read_effort(text)) {
        return effort;
    }
    return board::failure(unknown_value("--effort", text, {"draft", "review", "press"}));
}

/// What check and the commands like it have in common.
std::optional<Error> read_scope(const Raw& raw, CheckOptions& where) {
    for (const auto& fault :
         {read_levels(raw.levels, where), read_number("--jobs", raw.jobs, 1, most_jobs, where.jobs)}) {
        if (fault) {
            return fault;
        }
    }
    const auto effort = read_effort(raw.effort);
    if (!effort) {
        return effort.error();
    }
    where.effort = *effort;
    return std::nullopt;
}

/// "2/4"
std::optional<Error> read_shard(const std::string& text, Shard& shard) {
    constexpr std::size_t most = 4096;
    const std::size_t slash = std::min(text.find('/'), text.size());
    std::size_t number = 1;
    std::size_t of = 1;
    const std::string_view behind = std::string_view(text).substr(std::min(slash + 1, text.size()));
    if (!text.empty() &&
        (slash == 0 || behind.empty() || read_number("", text.substr(0, slash), 1, most, number) ||
         read_number("", std::string(behind), 1, most, of) || number > of)) {
        return usage_error(fmt::format("--shard: '{}' is no part K of N", text),
                           "--shard 1/4, then 2/4, 3/4 and 4/4");
    }
    shard = {static_cast<unsigned>(number), static_cast<unsigned>(of)};
    return std::nullopt;
}

/// A part is for a file, and for merge alone.
std::optional<Error> misplaced_part(const CheckOptions& check) {
    for (const Output& output : check.outputs) {
        if (output.kind == ReportKind::part && output.file.empty()) {
            return usage_error("a part needs a file", "--format part=part-1.sidelint");
        }
    }
    return std::nullopt;
}

/// What says how a report is written, and the gate.
std::optional<Error> read_reporting(const Raw& raw, CheckOptions& check) {
    constexpr std::size_t most_limit = 1'000'000;
    if (auto fault = read_outputs(raw.formats, check.outputs)) {
        return fault;
    }
    if (auto fault = read_number("--limit", raw.limit, 0, most_limit, check.limit)) {
        return fault;
    }
    std::size_t most_warnings = 0;
    if (auto fault = read_number("--bear-warnings", raw.most_warnings, 0, most_limit, most_warnings)) {
        return fault;
    }
    if (!raw.most_warnings.empty()) {
        check.most_warnings = most_warnings;
    }
    const auto detail = pick("--detail", raw.detail, {"findings", "puzzles", "proofs"});
    const auto gate = pick("--fail-on", raw.fail_on, {"never", "note", "warning", "error"});
    const auto colour = pick("--colour", raw.colour, {"auto", "always", "never"});
    const auto men = pick("--men", raw.men, {"letters", "figurines"});
    for (const auto* picked : {&detail, &gate, &colour, &men}) {
        if (!*picked) {
            return picked->error();
        }
    }
    check.detail = static_cast<report::Detail>(*detail);
    check.gate = *gate == 0 ? std::nullopt : std::optional(static_cast<rules::Severity>(*gate));
    check.colour = static_cast<ColourChoice>(*colour);
    check.men = static_cast<report::Men>(*men);
    return misplaced_part(check);
}

/// "-" is a text of its own: no other path beside it, no history behind it, and a name that says what it is.
std::optional<Error> misused_input(const CheckOptions& where) {
    const bool asked = std::find(where.paths.begin(), where.paths.end(), "-") != where.paths.end();
    if (!asked) {
        return where.input_name.empty()
                   ? std::nullopt
                   : std::optional(usage_error("--as names the text on standard input", "- --as PATH"));
    }
    if (where.paths.size() > 1 || where.wants_history()) {
        return usage_error("- stands for standard input, which is checked alone",
                           "sidelint check - --as PATH");
    }
    return where.input_name.empty() ? std::optional(usage_error("what does standard input hold?",
                                                                "name a file it could be: - --as sets/a.pgn"))
                                    : std::nullopt;
}

Result<Command> merge_command(const Raw& raw) {
    MergeOptions merge{raw.parts, raw.check};
    if (auto fault = read_reporting(raw, merge.how)) {
        return board::failure(std::move(*fault));
    }
    for (const Output& output : merge.how.outputs) {
        if (output.kind == ReportKind::part) {
            return board::failure(usage_error("merge writes reports, not parts", "--format text"));
        }
    }
    if (merge.how.detail == report::Detail::proofs) {
        return board::failure(usage_error("merge has no proofs to tell", "--detail puzzles"));
    }
    return Command(std::move(merge));
}

Result<Command> check_command(const Raw& raw) {
    CheckOptions check = raw.check;
    if (check.strict_baseline && !check.baseline) {
        return board::failure(usage_error("--strict-baseline: no baseline is named", "--baseline FILE"));
    }
    if (check.config && check.config_from) {
        return board::failure(
            usage_error("--config and --config-from exclude each other", "name one configuration"));
    }
    if (check.why && check.show_config) {
        return board::failure(
            usage_error("--why and --show-config exclude each other", "--why tells the settings, too"));
    }
    if ((check.why || check.show_config) && check.wants_history()) {
        return board::failure(usage_error("--why and --show-config look at one state",
                                          "leave --staged, --commit and --against out"));
    }
    if (check.staged && check.commit) {
        return board::failure(
            usage_error("--staged and --commit exclude each other", "check one state at a time"));
    }
    if (check.or_all && !check.against) {
        return board::failure(usage_error("--or-all: nothing is named to compare with", "--against REV"));
    }
    for (auto fault : {read_scope(raw, check), read_reporting(raw, check), read_shard(raw.shard, check.shard),
                       misused_input(check)}) {
        if (fault) {
            return board::failure(std::move(*fault));
        }
    }
    return Command(std::move(check));
}

Result<Command> fix_command(const Raw& raw) {
    FixOptions fix = raw.fix;
    for (auto fault : {read_scope(raw, fix.where), misused_input(fix.where)}) {
        if (fault) {
            return board::failure(std::move(*fault));
        }
    }
    return Command(std::move(fix));
}

Result<Command> diff_command(const Raw& raw) {
    DiffOptions diff = raw.diff;
    const auto colour = pick("--colour", raw.colour, {"auto", "always", "never"});
    if (!colour) {
        return board::failure(colour.error());
    }
    diff.where.colour = static_cast<ColourChoice>(*colour);
    for (auto fault : {read_scope(raw, diff.where), read_outputs(raw.formats, diff.outputs)}) {
        if (fault) {
            return board::failure(std::move(*fault));
        }
    }
    if (raw.revisions.size() > 2 || (diff.where.staged && raw.revisions.size() > 1)) {
        return board::failure(
            usage_error("diff holds one state against another",
                        "sidelint diff REV REV, or --staged with one REV at most; paths follow --only"));
    }
    diff.where.against = raw.revisions.empty() ? "HEAD" : raw.revisions.front();
    if (raw.revisions.size() == 2) {
        diff.where.commit = raw.revisions.back();
    }
    if (diff.where.staged && raw.revisions.empty()) {
        diff.where.against.reset(); // HEAD, or nothing before the first commit
    }
    diff.where.allow_empty = true;
    return Command(std::move(diff));
}

Result<Command> baseline_command(const Raw& raw) {
    BaselineOptions baseline = raw.baseline;
    const auto task = pick("baseline", raw.baseline_task, {"accept", "prune", "merge"});
    if (!task) {
        return board::failure(task.error());
    }
    if (auto fault = read_scope(raw, baseline.where)) {
        return board::failure(std::move(*fault));
    }
    baseline.task = static_cast<BaselineOptions::Task>(*task);
    const bool merges = baseline.task == BaselineOptions::Task::merge;
    if (raw.baseline_files.size() != (merges ? 3U : 1U)) {
        return board::failure(
            usage_error(fmt::format("baseline {} takes {}", raw.baseline_task,
                                    merges ? "three files: BASE OURS THEIRS" : "one file")));
    }
    if (baseline.task == BaselineOptions::Task::accept &&
        baseline.reason.find_first_not_of(' ') == std::string::npos) {
        return board::failure(usage_error("baseline accept: why is this accepted?",
                                          "--reason \"first printing, mended in the second\""));
    }
    baseline.file = raw.baseline_files.front();
    baseline.sides = raw.baseline_files;
    return Command(std::move(baseline));
}

Result<Command> solve_command(const Raw& raw) {
    SolveOptions solve;
    solve.fen = fmt::format("{}", fmt::join(raw.fen, " "));
    const auto effort = read_effort(raw.effort);
    if (!effort) {
        return board::failure(effort.error());
    }
    solve.effort = effort->value_or(solve::Effort::review);
    if (!raw.goal.empty()) {
        solve.goal = collection::read_goal(raw.goal);
        if (!solve.goal || solve.goal->kind == collection::GoalKind::not_checked) {
            return board::failure(usage_error(
                fmt::format("--goal: '{}' is no goal that can be tested", raw.goal),
                "mate in 3, win, win queen, win rook, win exchange, win piece, win pawn, draw, hold, best"));
        }
    }
    if (!raw.key.empty()) {
        solve.key = raw.key;
    }
    if (raw.solution && solve.key) {
        return board::failure(usage_error("--key and --solution exclude each other",
                                          "the first move of the solution is the key"));
    }
    solve.solution = raw.solution;
    if (raw.certificate && raw.certificate->empty()) {
        return board::failure(usage_error("--certificate: no file is named", "--certificate proof.txt"));
    }
    solve.certificate = raw.certificate;
    return Command(std::move(solve));
}

Result<Command> draw_command(const Raw& raw) {
    DrawOptions draw = raw.draw;
    draw.fen = fmt::format("{}", fmt::join(raw.drawn_fen, " "));
    if (!raw.below.empty()) {
        const auto below = pick("--below", raw.below, {"white", "black"});
        if (!below) {
            return board::failure(below.error());
        }
        draw.below = static_cast<board::Color>(*below);
    }
    for (const std::string& name : raw.marks) {
        const auto square = board::read_square(name);
        if (!square) {
            return board::failure(
                usage_error(fmt::format("--mark: '{}' is no square", name), "--mark f7,h7"));
        }
        draw.marked.push_back(*square);
    }
    return Command(std::move(draw));
}

Result<Command> schema_command(const Raw& raw) {
    const auto of = pick("schema", raw.schema, {"config", "report", "changes"});
    if (!of) {
        return board::failure(of.error());
    }
    return Command(SchemaOptions{static_cast<SchemaOptions::Of>(*of)});
}

Result<Command> explain_command(const Raw& raw) {
    ExplainOptions explain = raw.explain;
    const auto format = pick("--format", raw.explain_format, {"text", "markdown", "json"});
    if (!format) {
        return board::failure(format.error());
    }
    explain.format = static_cast<ExplainOptions::Format>(*format);
    return Command(std::move(explain));
}

HookOptions hook_command(const Raw& raw) {
    HookOptions hook = raw.hook;
    if (hook.task == HookOptions::Task::run) {
        hook.hooks = {raw.hook_run};
        hook.remote = raw.hook_run == "pre-push" && !raw.hook_words.empty() ? raw.hook_words.front() : "";
    } else if (hook.task == HookOptions::Task::list) {
        hook.hooks.assign(hook_names.begin(), hook_names.end());
    }
    return hook;
}

} // namespace

Result<Command> command_of(std::string_view command, const Raw& raw) {
    if (command == "check") {
        return check_command(raw);
    }
    if (command == "merge") {
        return merge_command(raw);
    }
    if (command == "fix") {
        return fix_command(raw);
    }
    if (command == "diff") {
        return diff_command(raw);
    }
    if (command == "baseline") {
        return baseline_command(raw);
    }
    if (command == "solve") {
        return solve_command(raw);
    }
    if (command == "draw") {
        return draw_command(raw);
    }
    if (command == "verify") {
        return Command(raw.verify);
    }
    if (command == "explain") {
        return explain_command(raw);
    }
    if (command == "hook") {
        return Command(hook_command(raw));
    }
    if (command == "manual") {
        return Command(ManualOptions{});
    }
    return command == "init" ? Result<Command>(Command(InitOptions{})) : schema_command(raw);
}

} // namespace app
