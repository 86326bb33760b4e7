#include "app/examine.hpp"

#include "app/cache_folder.hpp"
#include "app/version.hpp"
#include "history/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

namespace app {
namespace {

using Puzzles = std::set<const collection::Puzzle*>;

std::vector<const collection::Document*> pointers_to(std::span<const collection::Document> first,
                                                     std::span<const collection::Document> second = {}) {
    std::vector<const collection::Document*> pointers;
    for (const auto part : {first, second}) {
        for (const collection::Document& document : part) {
            pointers.push_back(&document);
        }
    }
    std::sort(pointers.begin(), pointers.end(),
              [](const auto* a, const auto* b) { return a->path < b->path; });
    return pointers;
}

bool judged_alike(const rules::Settings& a, const rules::Settings& b) {
    return a.effort == b.effort && a.win_at == b.win_at && a.near == b.near && a.uniqueness == b.uniqueness &&
           a.lines == b.lines && a.levels == b.levels && a.options == b.options && a.themes == b.themes;
}

/// What it meant and how it is judged is the same as before: so would be the findings.
bool is_unchanged(const history::Pair& pair, const rules::Policy& policy) {
    return pair.change == history::Change::same || (pair.change == history::Change::moved &&
                                                    judged_alike(policy.for_file(pair.before.document->path),
                                                                 policy.for_file(pair.after.document->path)));
}

/// One state of a comparison: puzzles that changed in full, and the rules about the whole.
Judged judge_state(const Judge& judge, std::span<const collection::Document> documents,
                   std::span<const collection::Document> the_same, const Puzzles& unchanged) {
    Judged judged =
        judge.documents(documents, [&](const auto& /*document*/, const collection::Puzzle& puzzle) {
            return !unchanged.contains(&puzzle);
        });
    if (judge.shard.is_first()) {
        append(judged, judge.whole(pointers_to(documents, the_same)));
    }
    return judged;
}

/// What stands in files nobody touched was there before and is not this change's business.
void drop_old_ones_elsewhere(std::vector<rules::Finding>& findings, const Comparison& comparison) {
    std::set<std::string_view> untouched;
    for (const collection::Document& document : comparison.the_same) {
        untouched.insert(document.path);
    }
    findings.erase(std::remove_if(findings.begin(), findings.end(),
                                  [&](const rules::Finding& finding) {
                                      return finding.status == rules::Status::still &&
                                             untouched.contains(finding.file);
                                  }),
                   findings.end());
}

/// Findings of the puzzles that changed which the earlier state's configuration would tell and this one does
/// not.
std::size_t hidden_by_configuration(const Subject& subject, const Judge& judge, const Puzzles& unchanged,
                                    const std::vector<rules::Finding>& told) {
    rules::Policy former = *subject.former;
    former.settings.endgames = judge.policy.settings.endgames;
    const Judge strict{judge.catalogue, former,      rules::Summarise::no, judge.jobs,
                       judge.progress,  judge.shard, judge.memory,         judge.allowed_too};
    const Judged judged = judge_state(strict, subject.documents, subject.comparison->the_same, unchanged);
    std::map<std::string, rules::Severity> known;
    for (const rules::Finding& finding : told) {
        known.emplace(finding.fingerprint, finding.severity);
    }
    return static_cast<std::size_t>(
        std::count_if(judged.findings.begin(), judged.findings.end(), [&](const rules::Finding& finding) {
            const auto found = known.find(finding.fingerprint);
            return found == known.end() || found->second < finding.severity;
        }));
}

/// Puts what the known files came to behind what the others did.
void append_known(Judged& judged, std::span<const KnownFile> known, bool allowed_too) {
    const auto tell = [&](const std::vector<rules::Finding>& findings) {
        judged.findings.insert(judged.findings.end(), findings.begin(), findings.end());
    };
    for (const KnownFile& file : known) {
        judged.puzzles += file.outcome.puzzles;
        tell(file.outcome.findings);
        if (allowed_too) {
            tell(file.outcome.allowed);
        } else {
            judged.allowed += file.outcome.allowed.size();
        }
        judged.summaries.insert(judged.summaries.end(), file.outcome.summaries.begin(),
                                file.outcome.summaries.end());
    }
    std::stable_sort(judged.summaries.begin(), judged.summaries.end(),
                     [](const auto& a, const auto& b) { return a.file < b.file; });
}

/// The known files that hold a puzzle like another one, of theirs or of a document's.
std::vector<collection::Document> read_akin(std::span<const KnownFile> known,
                                            std::span<const collection::Document> documents,
                                            const rules::Policy& policy) {
    std::vector<rules::Mark> marks;
    const auto add = [&](const std::vector<rules::Mark>& more) {
        marks.insert(marks.end(), more.begin(), more.end());
    };
    for (const KnownFile& file : known) {
        add(file.outcome.marks);
    }
    for (const collection::Document& document : documents) {
        add(rules::marks_of(document));
    }
    const std::vector<rules::Mark> shared = rules::shared_marks(std::move(marks));
    std::vector<collection::Document> akin;
    for (const KnownFile& file : known) {
        if (std::any_of(file.outcome.marks.begin(), file.outcome.marks.end(), [&](rules::Mark mark) {
                return std::binary_search(shared.begin(), shared.end(), mark);
            })) {
            akin.push_back(collection::read(file.path, file.bytes, policy.read));
        }
    }
    return akin;
}

Judged judge_one(const Subject& subject, const Judge& judge) {
    Judged judged = judge.documents(subject.documents, [&](const auto& document, const auto& puzzle) {
        return judge.shard.holds(document, puzzle);
    });
    if (!subject.known.empty()) {
        append_known(judged, subject.known, judge.allowed_too);
    }
    if (judge.shard.is_first()) {
        const auto akin = subject.known.empty() ? std::vector<collection::Document>{}
                                                : read_akin(subject.known, subject.documents, judge.policy);
        append(judged, judge.whole(pointers_to(subject.documents, akin)));
    }
    rules::put_in_order(judged.findings);
    return judged;
}

Judged judge_both(const Subject& subject, const Comparison& comparison, const Judge& judge,
                  report::Report& report) {
    const auto pairs = history::pair_puzzles(comparison.before, subject.documents);
    Puzzles unchanged;
    for (const history::Pair& pair : pairs) {
        const history::PuzzleRef& told = pair.after ? pair.after : pair.before;
        const bool ours = judge.shard.holds(*told.document, *told.puzzle);
        const bool same = is_unchanged(pair, judge.policy);
        if (same || !ours) { // both sides of a pair belong to one part
            unchanged.insert(pair.before.puzzle);
            unchanged.insert(pair.after.puzzle);
        }
        report.unchanged += same && ours ? 1U : 0U;
    }
    Judge earlier = judge;
    earlier.summarise = rules::Summarise::no;
    Judged before = judge_state(earlier, comparison.before, comparison.the_same, unchanged);
    Judged after = judge_state(judge, subject.documents, comparison.the_same, unchanged);
    if (subject.former) {
        if (const std::size_t hidden = hidden_by_configuration(subject, judge, unchanged, after.findings);
            hidden > 0) {
            report.remarks.push_back(
                fmt::format("by the earlier configuration {} finding{} of what changed would be "
                            "told, or told as graver",
                            hidden, hidden == 1 ? "" : "s"));
        }
    }
    after.findings = history::compare(std::move(before.findings), std::move(after.findings), pairs);
    drop_old_ones_elsewhere(after.findings, comparison);
    after.errors.insert(after.errors.end(), before.errors.begin(), before.errors.end());
    return after;
}

/// A file that could not be read was not checked.
std::size_t files_read(std::span<const collection::Document> documents) {
    return static_cast<std::size_t>(
        std::count_if(documents.begin(), documents.end(), [](const collection::Document& document) {
            return document.format != collection::Format::none;
        }));
}

} // namespace

Means::Means(const CheckOptions& options, const Environment& environment)
    : endgames(options.no_cache ? std::nullopt : cache_folder(environment, options.cache)),
      memory(options.no_cache ? std::nullopt : cache_folder(environment, options.cache)),
      jobs(jobs_of(options, environment)) {}

Recall Means::recall(const CheckOptions& options, rules::Summarise summarise) {
    const bool parts = std::any_of(options.outputs.begin(), options.outputs.end(),
                                   [](const Output& output) { return output.kind == ReportKind::part; });
    const bool files = !options.wants_history() && !options.baseline && !parts && options.shard.of == 1;
    return {memory.works() ? &memory : nullptr, files, summarise, &endgames};
}

std::size_t jobs_of(const CheckOptions& options, const Environment& environment) {
    return options.jobs != 0 ? options.jobs : std::max<std::size_t>(environment.processors, 1);
}

report::Report examine(const Subject& subject, const rules::Catalogue& catalogue, Means& means,
                       rules::Summarise summarise, const CheckOptions& options, const Streams& streams,
                       Errors& errors) {
    const Recall recall = means.recall(options, summarise);
    const bool shown = streams.err_is == Terminal::yes && !options.quiet;
    Progress progress(streams.err, shown ? Progress::Shown::yes : Progress::Shown::no);
    rules::Policy policy = subject.policy;
    policy.settings.endgames = &means.endgames;
    const Judge judge{catalogue,     policy,        summarise,           means.jobs,  progress,
                      subject.shard, recall.memory, options.allowed_too, recall.files};
    report::Report report;
    report.version = version;
    report.effort = solve::name(subject.policy.settings.effort);
    report.files = files_read(subject.documents) + subject.known.size();
    report.remarks = subject.remarks;
    Judged judged;
    if (subject.comparison) {
        report.against = subject.comparison->commit;
        report.against_name = subject.comparison->name;
        judged = judge_both(subject, *subject.comparison, judge, report);
    } else {
        judged = judge_one(subject, judge);
    }
    report.puzzles = judged.puzzles;
    report.allowed = judged.allowed;
    report.findings = std::move(judged.findings);
    report.summaries = std::move(judged.summaries);
    errors.insert(errors.end(), subject.errors.begin(), subject.errors.end());
    errors.insert(errors.end(), judged.errors.begin(), judged.errors.end());
    return report;
}

board::Result<Examined, Errors> load_and_examine(decltype(load_files)& load, const CheckOptions& options,
                                                 const Streams& streams, const Environment& environment) {
    auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    if (!catalogue) {
        return board::failure(Errors{Error{Error::Kind::internal, catalogue.error(), {}, {}}});
    }
    Means means(options, environment);
    const Recall recall{means.memory.works() ? &means.memory : nullptr, false, rules::Summarise::no,
                        &means.endgames};
    LoadedSubject subject = load(options, environment, *catalogue, recall, means.jobs);
    if (!subject) {
        return board::failure(subject.error());
    }
    Errors errors;
    report::Report report =
        examine(*subject, *catalogue, means, rules::Summarise::no, options, streams, errors);
    return Examined{std::move(catalogue).value(), std::move(subject).value(), std::move(report),
                    std::move(errors)};
}

} // namespace app
