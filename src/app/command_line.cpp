#include "app/command_tree.hpp"
#include "app/help_text.hpp"
#include "app/version.hpp"
#include "app/words.hpp"
#include "rules/catalogue.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace app {
namespace {

constexpr const char* worked_examples = R"(Examples:
  sidelint check                        everything in this repository
  sidelint check sets/first-term.pgn    one file
  sidelint check --staged               what the next commit would change; for a hook
  sidelint check --against auto         what a pull request changes; for CI
  sidelint check --against HEAD~1 --format text --format json=report.json
  sidelint diff HEAD~1                  what changed since, puzzle by puzzle
  sidelint fix --preview                what safe corrections would change
  sidelint solve "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1"
  sidelint explain key/cook

Exit status:
  0  nothing at or above the gate (--fail-on); every certificate holds
  1  findings at or above it; a certificate does not hold
  2  wrong use or configuration
  3  something could not be read, written or completed
)";

/// Options added while it lives stand under this heading in the help.
class Group {
  public:
    Group(CLI::App* command, const char* heading) : m_command(command) {
        command->option_defaults()->group(heading);
    }
    ~Group() { m_command->option_defaults()->group("Options"); }
    Group(const Group&) = delete;
    Group& operator=(const Group&) = delete;

  private:
    CLI::App* m_command;
};

void add_scope(CLI::App* command, Raw& raw, CheckOptions& where) {
    const Group judged(command, "How it is judged");
    command->add_option("--effort", raw.effort, "How long to search, in nodes (review)")
        ->option_text("draft|review|press");
    command->add_option("--jobs", raw.jobs, "Puzzles checked at a time; never changes the outcome")
        ->option_text("N");
    command
        ->add_option("--rule", raw.levels, "Level of a rule or a family (key/*): off, note, warning, error")
        ->option_text("ID=LEVEL")
        ->allow_extra_args(false);
    command->add_option("--config", where.config, "Configuration instead of the nearest .sidelint.yaml")
        ->option_text("FILE");
    command->add_flag("--excluded-too", where.excluded_too, "Also files that the configuration excludes");
    command->add_flag("--trust-repository", where.trust_repository,
                      "Read a repository that belongs to another user");
}

/// How a report is written, and the gate.
void add_reporting(CLI::App* command, Raw& raw) {
    CheckOptions& how = raw.check;
    const Group reporting(command, "The report");
    command
        ->add_option("--format", raw.formats,
                     "Of the report (text), to standard output or a file; several are possible")
        ->option_text("KIND[=FILE]")
        ->allow_extra_args(false);
    command
        ->add_option("--detail", raw.detail, "json also tells of every puzzle checked, or proves its mates")
        ->option_text("findings|puzzles|proofs");
    command->add_option("--fail-on", raw.fail_on, "Lowest severity that ends in status 1 (error)")
        ->option_text("error|warning|note|never");
    command
        ->add_option("--bear-warnings", raw.most_warnings,
                     "Status 1 when there are more warnings, whatever --fail-on says")
        ->option_text("N");
    command->add_option("--colour,--color", raw.colour, "Colour on standard output")
        ->option_text("auto|always|never");
    command->add_flag(
        "--overview", how.overview,
        "text, markdown, html, json and jsonl also count the puzzles by chapter, motif, goal, length, ...");
    command->add_option("--men", raw.men, "In diagrams (letters)")->option_text("letters|figurines");
    command->add_option("--limit", raw.limit, "Findings of a rule that a text report tells (100); 0: all")
        ->option_text("N");
    command
        ->add_option("--sarif-category", how.sarif.category, "Name of this run among several uploaded ones")
        ->option_text("NAME");
    command->add_flag("--sarif-all", how.sarif.all, "SARIF also holds what is gone");
    command->add_flag("-q,--quiet", how.quiet, "Findings only");
}

void add_states(CLI::App* check, Raw& raw) {
    const Group states(check, "What is checked");
    check->add_flag("--staged", raw.check.staged, "What the index changes against HEAD");
    check->add_option("--commit", raw.check.commit, "What that commit changes against its first parent")
        ->option_text("REV");
    check
        ->add_option("--against", raw.check.against,
                     "Compare with that revision; auto: with what CI or the upstream says")
        ->option_text("REV|auto");
    check->add_flag("--or-all", raw.check.or_all,
                    "When what to compare with cannot be found, everything counts as new");
    check
        ->add_option("--as", raw.check.input_name,
                     "With - as PATH: check the text on standard input as if it stood in that file")
        ->option_text("PATH");
    check
        ->add_option("--shard", raw.shard,
                     "Only part K of N of the puzzles; --format part=FILE writes it for merge")
        ->option_text("K/N");
    check->add_flag("--allow-empty", raw.check.allow_empty, "No puzzle file is no error");
}

void add_debts(CLI::App* check, Raw& raw) {
    const Group judged(check, "How it is judged");
    check->add_flag("--allowed-too", raw.check.allowed_too, "Also findings that an allowance silences");
    check
        ->add_option("--config-from", raw.check.config_from,
                     "The configuration as that revision has it, whatever the files checked bring along")
        ->option_text("REV");
    check->add_option("--baseline", raw.check.baseline, "Hide what that file accepts, and count it")
        ->option_text("FILE");
    check->add_flag("--strict-baseline", raw.check.strict_baseline,
                    "Status 1 when the baseline has entries that nothing answers to any more");
}

void add_check(CLI::App& app, Raw& raw) {
    CLI::App* check = app.add_subcommand("check", "Check puzzles and report what is wrong with them");
    check->footer(check_notes);
    check->add_option("PATH", raw.check.paths, "Files and folders; without any, the working directory");
    add_states(check, raw);
    add_scope(check, raw, raw.check);
    add_debts(check, raw);
    add_reporting(check, raw);
    const Group memory(check, "What is kept for the next run");
    check
        ->add_option("--cache", raw.check.cache,
                     "Keep what was worked out in that folder, for the next run (~/.cache/sidelint)")
        ->option_text("FOLDER");
    check->add_flag("--no-cache", raw.check.no_cache, "Work out everything anew, and keep nothing");
    const Group instead(check, "Instead of a report");
    check
        ->add_option("--why", raw.check.why,
                     "All that was asked and found about that puzzle, by id or file:line")
        ->option_text("PUZZLE");
    check->add_flag("--show-config", raw.check.show_config,
                    "The settings in force, for a PATH as it is judged, and where each comes from");
}

void add_merge(CLI::App& app, Raw& raw) {
    CLI::App* merge = app.add_subcommand("merge", "Join the parts of a run that several machines shared");
    merge->footer(merge_notes);
    merge->add_option("PART", raw.parts, "Files of sidelint check --shard K/N --format part=FILE")
        ->required();
    add_reporting(merge, raw);
}

void add_fix(CLI::App& app, Raw& raw) {
    CLI::App* fix = app.add_subcommand("fix", "Correct in place what can be corrected safely");
    fix->footer(fix_notes);
    fix->add_option("PATH", raw.fix.where.paths, "Files and folders; without any, the working directory");
    fix->add_flag("--preview", raw.fix.preview, "Print the change as a unified diff and write nothing");
    fix->add_flag("--staged", raw.fix.where.staged,
                  "Only files that are staged; one that differs from its staged state is left alone");
    fix->add_option("--as", raw.fix.where.input_name,
                    "With - as PATH: correct the text on standard input as if it stood in that file")
        ->option_text("PATH");
    fix->add_option("--apply", raw.fix.apply, "Only the correction of that finding, even a suggested one")
        ->option_text("FINGERPRINT")
        ->allow_extra_args(false);
    fix->add_flag("--fail-if-changed", raw.fix.fail_if_changed,
                  "Status 1 when something was corrected; for a hook");
    add_scope(fix, raw, raw.fix.where);
    fix->add_flag("--allow-empty", raw.fix.where.allow_empty, "No puzzle file is no error");
    fix->add_flag("-q,--quiet", raw.fix.where.quiet, "Only what was corrected");
}

void add_diff(CLI::App& app, Raw& raw) {
    CLI::App* diff =
        app.add_subcommand("diff", "What changed, puzzle by puzzle, and which findings came and went");
    diff->footer(diff_notes);
    diff->add_option("REV", raw.revisions, "The earlier state, and the later one");
    diff->add_flag("--staged", raw.diff.where.staged, "What the index changes");
    diff->add_option("--only", raw.diff.where.paths, "Only that file or folder")
        ->option_text("PATH")
        ->allow_extra_args(false);
    diff->add_option(
            "--format", raw.formats,
            "text, json, markdown, html or annotations, to standard output or a file; several are possible")
        ->option_text("KIND[=FILE]")
        ->allow_extra_args(false);
    add_scope(diff, raw, raw.diff.where);
    diff->add_option("--colour,--color", raw.colour, "Colour on standard output")
        ->option_text("auto|always|never");
}

void add_baseline(CLI::App& app, Raw& raw) {
    CLI::App* baseline =
        app.add_subcommand("baseline", "Accept what is found now, so that only more of it fails");
    baseline->footer(baseline_notes);
    baseline->add_option("accept|prune|merge", raw.baseline_task, "What to do")->required();
    baseline->add_option("FILE", raw.baseline_files, "The baseline")->required();
    baseline
        ->add_option("--reason", raw.baseline.reason, "Why the findings are accepted; stands in every entry")
        ->option_text("TEXT");
    baseline->add_option("--only", raw.baseline.where.paths, "Only that file or folder")
        ->option_text("PATH")
        ->allow_extra_args(false);
    add_scope(baseline, raw, raw.baseline.where);
}

void add_solve(CLI::App& app, Raw& raw) {
    CLI::App* solve =
        app.add_subcommand("solve", "Every first move with its verdict, the best line, the motifs");
    solve->footer(solve_notes);
    solve->add_option("FEN", raw.fen, "The diagram, four to six fields")->required();
    solve
        ->add_option("--goal", raw.goal,
                     "What is asked for: \"mate in 2\", win, \"win exchange\", draw, hold, best")
        ->option_text("GOAL");
    solve->add_option("--key", raw.key, "The intended first move")->option_text("MOVE");
    solve
        ->add_option("--solution", raw.solution,
                     "The author's solution as PGN movetext: each of its moves is judged")
        ->option_text("MOVES");
    solve->add_option("--effort", raw.effort, "How long to search, in nodes (review)")
        ->option_text("draft|review|press");
    solve->add_option("--certificate", raw.certificate, "Write the proof of a mate, for sidelint verify")
        ->option_text("FILE|-");
}

void add_draw(CLI::App& app, Raw& raw) {
    CLI::App* draw = app.add_subcommand("draw", "Draw a diagram as SVG, on standard output");
    draw->add_option("FEN", raw.drawn_fen, "The diagram, four to six fields; it need not be playable")
        ->required();
    draw->add_option("--arrow", raw.draw.arrows, "A move, or two squares: Rd8 or d1d8; several are possible")
        ->option_text("MOVE")
        ->allow_extra_args(false);
    draw->add_option("--mark", raw.marks, "Squares to put into corners")
        ->option_text("SQUARES")
        ->delimiter(',')
        ->allow_extra_args(false);
    draw->add_option("--below", raw.below, "Whose side is below (whoever is to move)")
        ->option_text("white|black");
}

void add_others(CLI::App& app, Raw& raw) {
    CLI::App* verify = app.add_subcommand("verify", "Do these proofs of mates hold?");
    verify->footer(verify_notes);
    verify->add_option("FILE", raw.verify.files, "Certificates of sidelint solve --certificate")->required();
    CLI::App* explain = app.add_subcommand("explain", "What a rule or a motif means; without a name, a list");
    explain->footer(explain_notes);
    explain->add_option("RULE|MOTIF", raw.explain.subject, "As in findings (key/cook) and themes (fork)");
    explain->add_flag("--all", raw.explain.all, "Everything about every rule and motif");
    explain->add_option("--format", raw.explain_format, "For reading here, for a page, for a program (text)")
        ->option_text("text|markdown|json");
    app.add_subcommand("init", "Write a commented .sidelint.yaml into the working directory");
    app.add_subcommand("manual", "This help as a manual page, for man")->footer(manual_notes);
    CLI::App* schema = app.add_subcommand(
        "schema", "JSON schema of the configuration, or of what check or diff writes as JSON");
    schema->add_option("config|report|changes", raw.schema, "Which")->required();
}

void add_hook(CLI::App& app, Raw& raw) {
    CLI::App* hook = app.add_subcommand("hook", "Put a hook into this repository, or take it away");
    hook->footer(hook_notes);
    hook->require_subcommand(0, 1);
    const std::vector<std::string> names(hook_names.begin(), hook_names.end());
    const auto task = [&](const char* name, const char* about, HookOptions::Task meant) {
        CLI::App* command = hook->add_subcommand(name, about);
        command->callback([&raw, meant] { raw.hook.task = meant; });
        return command;
    };
    for (CLI::App* command : {task("add", "Write these hooks", HookOptions::Task::add),
                              task("remove", "Take these hooks away", HookOptions::Task::remove)}) {
        command->add_option("HOOK", raw.hook.hooks, "pre-commit, pre-push, pre-receive")
            ->required()
            ->check(CLI::IsMember(names));
    }
    CLI::App* run = task("run", "What a hook calls", HookOptions::Task::run);
    run->add_option("HOOK", raw.hook_run, "pre-commit, pre-push, pre-receive")
        ->required()
        ->check(CLI::IsMember(names));
    run->add_option("WORDS", raw.hook_words, "What git has told the hook");
}

/// The nearest option or command to a word nobody knows.
std::string cure_for(const CLI::App& app, const std::vector<std::string>& words) {
    const auto chosen = app.get_subcommands();
    const CLI::App& at = chosen.empty() ? app : *chosen.front();
    std::vector<std::string> known;
    for (const CLI::Option* option : at.get_options()) {
        for (const std::string& name : option->get_lnames()) {
            known.push_back("--" + name);
        }
    }
    for (const CLI::App* command : app.get_subcommands(nullptr)) {
        known.push_back(command->get_name());
    }
    for (const std::string& word : words) {
        if (const auto near = rules::nearest(word.substr(0, word.find('=')), known); !near.empty()) {
            return fmt::format("did you mean {}?", near.front());
        }
    }
    return fmt::format("sidelint {}{}--help shows what there is", chosen.empty() ? "" : at.get_name(),
                       chosen.empty() ? "" : " ");
}

/// Names of arguments say what they are; CLI11 would add what kind of value they take.
void leave_types_out(CLI::App& command) {
    for (CLI::Option* option : command.get_options()) {
        if (option->get_positional()) {
            option->type_name("");
        }
    }
    for (CLI::App* inner : command.get_subcommands([](CLI::App*) { return true; })) {
        leave_types_out(*inner);
    }
}

} // namespace

void add_commands(CLI::App& app, Raw& raw) {
    app.name("sidelint");
    app.description("Checks chess puzzles: diagram, key, lines and themes, and what a commit broke.");
    app.footer(worked_examples);
    app.set_version_flag("--version", fmt::format("sidelint {}", version));
    app.require_subcommand(1);
    add_check(app, raw);
    add_fix(app, raw);
    add_diff(app, raw);
    add_baseline(app, raw);
    add_merge(app, raw);
    add_solve(app, raw);
    add_hook(app, raw);
    add_draw(app, raw);
    add_others(app, raw);
    leave_types_out(app);
}

Result<Command> read_command_line(std::span<const std::string> arguments) {
    Raw raw;
    CLI::App app;
    add_commands(app, raw);
    try {
        app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
    } catch (const CLI::CallForHelp&) {
        return Command(Printed{folded(app.help())});
    } catch (const CLI::CallForVersion& call) {
        return Command(Printed{std::string(call.what()) + '\n'});
    } catch (const CLI::RequiredError& fault) {
        const auto words = app.remaining(true);
        std::string message = fault.what();
        if (app.get_subcommands().empty()) {
            message =
                words.empty() ? "no command is named" : fmt::format("unknown command '{}'", words.front());
        }
        return board::failure(usage_error(std::move(message), cure_for(app, words)));
    } catch (const CLI::ParseError& fault) {
        return board::failure(usage_error(fault.what(), cure_for(app, app.remaining(true))));
    }
    return command_of(app.get_subcommands().front()->get_name(), raw);
}

} // namespace app
