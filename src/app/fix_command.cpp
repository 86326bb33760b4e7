// sidelint fix: safe corrections in place.

#include "app/cache_folder.hpp"
#include "app/commands.hpp"
#include "app/correct.hpp"
#include "app/examine.hpp"
#include "app/output.hpp"
#include "app/progress.hpp"
#include "history/patch.hpp"
#include "history/replace.hpp"
#include "history/repository.hpp"
#include "report/head.hpp"
#include "solve/endgame_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <ostream>
#include <set>

namespace app {
namespace {

using rules::Finding;

struct Outcome {
    std::size_t corrections = 0;
    std::size_t files = 0;
    std::size_t suggested = 0;
    bool left_alone = false;
    std::string text;
};

std::string place_of(const Finding& finding) {
    return fmt::format("{}:{}:{}", report::harmless(finding.file), finding.begin.line, finding.begin.column);
}

/// "'b' instead of 'w'", the first three.
std::string edits_text(const Finding& finding, std::string_view bytes) {
    constexpr std::size_t most = 3;
    std::string text;
    const auto& edits = finding.fix->edits;
    for (std::size_t i = 0; i < std::min(edits.size(), most); ++i) {
        const collection::Span span = edits[i].span;
        text += fmt::format("{}'{}' instead of '{}'", i == 0 ? "" : ", ", report::harmless(edits[i].bytes),
                            report::harmless(bytes.substr(span.begin, span.end - span.begin)));
    }
    return edits.size() > most ? text + fmt::format(" and {} more", edits.size() - most) : text;
}

/// What the index changes against HEAD; a file that differs from the index in the worktree is refused.
Result<std::set<std::string>> staged_files(const FixOptions& options, const Environment& environment,
                                           const rules::Policy& policy, Errors& errors) {
    const auto trust = options.where.trust_repository ? history::Trust::anyone : history::Trust::owner_only;
    const auto repository = history::Repository::open(common_folder(environment, options.where.paths), trust);
    if (!repository) {
        return board::failure(repository.error());
    }
    const auto head = repository->head();
    const auto index = repository->index();
    for (const auto* state : {&head, &index}) {
        if (!*state) {
            return board::failure(state->error());
        }
    }
    std::vector<std::string> skipped;
    const auto staged = repository->changes(*head, *index, policy, skipped);
    const auto unstaged = repository->changes(*index, repository->worktree(), policy, skipped);
    for (const auto* changes : {&staged, &unstaged}) {
        if (!*changes) {
            return board::failure(changes->error());
        }
    }
    std::set<std::string> differing;
    for (const history::FileChange& change : *unstaged) {
        differing.insert((change.before ? change.before : change.after)->path);
    }
    std::set<std::string> wanted;
    for (const history::FileChange& change : *staged) {
        if (change.after && !differing.contains(change.after->path)) {
            wanted.insert(change.after->path);
        } else if (change.after) {
            errors.push_back(io_error(change.after->path,
                                      "is left alone: the file differs from what is staged of it",
                                      "git add it, or set the other changes aside, and run it again"));
        }
    }
    return wanted;
}

/// By fingerprint when some are named, else every safe one.
Chosen choice_of(const FixOptions& options, const std::optional<std::set<std::string>>& files) {
    return [&options, files](const Finding& finding) {
        const bool named =
            std::find(options.apply.begin(), options.apply.end(), finding.fingerprint) != options.apply.end();
        const bool safe = options.apply.empty() && finding.fix->kind == rules::Fix::Kind::safe;
        return (named || safe) && (!files || files->contains(finding.file));
    };
}

Errors unknown_fingerprints(const FixOptions& options, const Corrections& corrections) {
    std::set<std::string> known;
    for (const Corrected& file : corrections.files) {
        for (const Finding& finding : file.made) {
            known.insert(finding.fingerprint);
        }
    }
    Errors errors;
    for (const std::string& wanted : options.apply) {
        if (!known.contains(wanted)) {
            errors.push_back(
                usage_error(fmt::format("--apply {}: no correction has this fingerprint", wanted),
                            "sidelint fix --preview lists them; each puzzle has its own"));
        }
    }
    return errors;
}

/// Each line made harmless; the line ends of the file stay.
std::string harmless_diff(std::string_view diff) {
    std::string text;
    while (!diff.empty()) {
        const std::size_t end = std::min(diff.find('\n'), diff.size());
        const bool carriage = end > 0 && diff[end - 1] == '\r';
        text += report::harmless(diff.substr(0, end - (carriage ? 1 : 0))) + (carriage ? "\r\n" : "\n");
        diff.remove_prefix(std::min(end + 1, diff.size()));
    }
    return text;
}

/// Writes or shows one file. False when that fails.
bool settle(const Corrected& file, const collection::Document& before, const FixOptions& options,
            const std::string& root, Outcome& outcome, Errors& errors) {
    if (options.preview) {
        auto diff = history::unified_diff(before.path, before.bytes, file.after.bytes);
        if (!diff) {
            errors.push_back(diff.error());
            return false;
        }
        outcome.text += harmless_diff(*diff);
        return true;
    }
    if (!options.where.input) {
        if (auto fault = history::replace_beneath(root, before.path, before.bytes, file.after.bytes)) {
            errors.push_back(std::move(*fault));
            return false;
        }
    }
    for (const Finding& finding : file.made) {
        outcome.text += fmt::format("{}: corrected {}: {}\n", place_of(finding), finding.rule,
                                    report::harmless(finding.message));
    }
    return true;
}

void settle_all(const Corrections& corrections, const Subject& subject, const FixOptions& options,
                const std::string& root, Outcome& outcome, Errors& errors) {
    for (const Corrected& file : corrections.files) {
        const collection::Document& before = subject.documents[file.document];
        if (!file.refused.empty()) {
            outcome.left_alone = true;
            outcome.text += options.preview
                                ? ""
                                : fmt::format("{}: left as it was: {}\n", report::harmless(before.path),
                                              report::harmless(file.refused));
        } else if (settle(file, before, options, root, outcome, errors)) {
            outcome.corrections += file.made.size();
            ++outcome.files;
        }
    }
}

std::string left_text(const Corrections& corrections) {
    std::string text;
    for (const LeftPuzzle& puzzle : corrections.puzzles_left) {
        text += fmt::format("{}: {} is left as it was: {}\n", report::harmless(puzzle.file),
                            report::harmless(puzzle.id), report::harmless(puzzle.why));
    }
    return text;
}

/// What a person has to decide about, with the text it stands in.
std::string suggestions_text(const Corrections& corrections, const Subject& subject, Outcome& outcome) {
    std::map<std::string_view, std::string_view> bytes;
    for (const collection::Document& document : subject.documents) {
        bytes[document.path] = document.bytes;
    }
    for (const Corrected& file : corrections.files) {
        if (file.refused.empty()) {
            bytes[file.after.path] = file.after.bytes;
        }
    }
    std::string text;
    for (const Finding& finding : corrections.left) {
        if (finding.fix->kind == rules::Fix::Kind::suggested) {
            ++outcome.suggested;
            text += fmt::format("  {}  {}: {}: {}\n{:20}{}\n", finding.fingerprint, place_of(finding),
                                finding.rule, report::harmless(finding.message), "",
                                edits_text(finding, bytes[finding.file]));
        }
    }
    return text;
}

std::string closing(const Outcome& outcome, const FixOptions& options, const std::string& suggestions) {
    std::string text = outcome.corrections == 0
                           ? std::string("Nothing to correct.\n")
                           : fmt::format("{} {} in {}.\n", options.preview ? "Would correct" : "Corrected",
                                         report::plural(outcome.corrections, "finding"),
                                         report::plural(outcome.files, "file"));
    if (outcome.corrections == 0 && outcome.left_alone) {
        text = "Nothing was corrected.\n";
    }
    if (outcome.suggested > 0) {
        text += fmt::format(
            "{} that would change what a puzzle says; sidelint fix --apply FINGERPRINT makes one:\n{}",
            report::plural(outcome.suggested, "suggestion"), suggestions);
    }
    return text;
}

/// What goes to standard output: the text as it came, where nothing of it was corrected or may be.
std::string corrected_input(const Corrections& corrections, const FixOptions& options) {
    const bool made = !corrections.files.empty() && corrections.files.front().refused.empty();
    return made ? corrections.files.front().after.bytes : *options.where.input;
}

int fix_files(const Subject& subject, const FixOptions& options, const std::string& root, const Judge& judge,
              const std::optional<std::set<std::string>>& files, const Streams& streams, Errors errors) {
    const Corrections corrections = correct(subject.documents, judge, choice_of(options, files));
    errors.insert(errors.end(), corrections.errors.begin(), corrections.errors.end());
    if (Errors unknown = unknown_fingerprints(options, corrections); !unknown.empty()) {
        return end_with(streams, unknown);
    }
    Outcome outcome;
    settle_all(corrections, subject, options, root, outcome, errors);
    outcome.left_alone = outcome.left_alone || !corrections.puzzles_left.empty();
    const bool silent = options.preview || options.where.input; // standard output holds something else
    if (silent) {
        streams.err << left_text(corrections);
    } else {
        outcome.text += left_text(corrections);
    }
    const std::string suggestions = suggestions_text(corrections, subject, outcome);
    const std::string end = options.where.quiet ? "" : closing(outcome, options, suggestions);
    if (silent) {
        streams.err << end; // the diff, or the corrected text, stands alone on standard output
    }
    if (options.where.input && !options.preview) {
        streams.err << outcome.text;
        outcome.text = corrected_input(corrections, options);
    }
    for (Error& error : print(streams, outcome.text + (silent ? "" : end))) {
        errors.push_back(std::move(error));
    }
    tell(streams.err, errors);
    const bool failed =
        outcome.left_alone || (outcome.corrections > 0 && (options.preview || options.fail_if_changed));
    return exit_status(errors, failed ? Gate::failed : Gate::passed);
}

} // namespace

int run_fix(const FixOptions& asked, const Streams& streams, const Environment& environment) {
    FixOptions options = asked;
    options.where = with_input(asked.where, streams);
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    if (!catalogue) {
        return end_with(streams, std::array{Error{Error::Kind::internal, catalogue.error(), {}, {}}});
    }
    const std::size_t jobs = jobs_of(options.where, environment);
    const LoadedSubject subject = load_files(options.where, environment, *catalogue, {}, jobs);
    const auto workspace = options.where.input
                               ? Result<Workspace>(Workspace{})
                               : find_workspace(environment, options.where.paths, std::nullopt);
    if (!subject) {
        return end_with(streams, subject.error());
    }
    if (!workspace) {
        return end_with(streams, std::array{workspace.error()});
    }
    Errors errors = subject->errors;
    std::optional<std::set<std::string>> files;
    if (options.where.staged) {
        auto staged = staged_files(options, environment, subject->policy, errors);
        if (!staged) {
            return end_with(streams, std::array{staged.error()});
        }
        files = std::move(staged).value();
    }
    const solve::EndgameTables endgames(cache_folder(environment));
    rules::Policy policy = subject->policy;
    policy.settings.endgames = &endgames;
    const bool shown = streams.err_is == Terminal::yes && !options.where.quiet;
    Progress progress(streams.err, shown ? Progress::Shown::yes : Progress::Shown::no);
    const Judge judge{*catalogue, policy, rules::Summarise::no, jobs, progress, {}, nullptr};
    return fix_files(*subject, options, workspace->root, judge, files, streams, std::move(errors));
}

} // namespace app
