#include "app/correct.hpp"

#include "collection/edit.hpp"
#include "history/compare.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>
#include <set>

namespace app {
namespace {

using collection::Document;
using collection::Edit;
using rules::Finding;

constexpr int most_passes = 10;

/// Rules that can correct nothing are off: what is left costs no search as a rule.
rules::Policy only_fixable(rules::Policy policy, const rules::Catalogue& catalogue) {
    rules::Override last;
    last.files = "**";
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        if (rule.fix == "none") {
            last.levels[rule.id] = rules::Severity::off;
        }
    }
    policy.overrides.push_back(std::move(last));
    return policy;
}

/// Of the puzzle a finding stands in, from 1; 0 for what stands before the first.
std::ptrdiff_t ordinal_of(const Document& document, const Finding& finding) {
    const auto behind = std::upper_bound(
        document.puzzles.begin(), document.puzzles.end(), finding.span.begin,
        [](std::size_t at, const collection::Puzzle& puzzle) { return at < puzzle.span.begin; });
    return behind - document.puzzles.begin();
}

/// What a finding is about, whatever its puzzle is called.
std::string about(const Document& document, const Finding& finding) {
    return fmt::format("{}\n{}\n{}\n{}", ordinal_of(document, finding), finding.rule, finding.message_id,
                       finding.subject);
}

/// Puzzles that must not be touched, and why: file, ordinal.
using Blocked = std::map<std::string, std::map<std::ptrdiff_t, std::string>>;

std::size_t faults_of(const Document& document) {
    return document.faults.size() + document.faults_in_puzzles;
}

std::vector<std::string> rules_of(const std::vector<Finding>& findings) {
    std::set<std::string> ids;
    for (const Finding& finding : findings) {
        ids.insert(finding.rule);
    }
    return {ids.begin(), ids.end()};
}

/// Takes fixes that touch nothing taken before: the first by place wins, the rest wait for the next pass.
class Taking {
  public:
    bool take(const rules::Fix& fix) {
        const bool free = std::none_of(fix.edits.begin(), fix.edits.end(), [&](const Edit& edit) {
            const auto behind = m_edits.lower_bound(edit.span.begin);
            return (behind != m_edits.end() && behind->second.span.begin < edit.span.end) ||
                   (behind != m_edits.begin() && std::prev(behind)->second.span.end > edit.span.begin);
        });
        for (const Edit& edit : fix.edits) {
            if (free) {
                m_edits.emplace(edit.span.begin, edit);
            }
        }
        return free;
    }
    [[nodiscard]] std::vector<Edit> edits() const {
        std::vector<Edit> edits;
        for (const auto& [begin, edit] : m_edits) {
            edits.push_back(edit);
        }
        return edits;
    }

  private:
    std::map<std::size_t, Edit> m_edits;
};

/// One file between the passes.
struct Work {
    Corrected file;
    std::set<std::string> about;                    ///< what was corrected
    std::set<std::ptrdiff_t> touched;               ///< the puzzles it stood in
    std::map<std::ptrdiff_t, std::string> culprits; ///< of them, those whose corrections do not hold
    std::string one_before;                         ///< its bytes a pass ago
    std::vector<Finding> found;                     ///< by the latest pass
};

class Run {
  public:
    Run(std::span<const Document> documents, const Judge& judge, const Chosen& chosen, const Blocked& blocked)
        : m_documents(documents), m_judge(judge), m_chosen(chosen), m_blocked(blocked),
          m_policy(only_fixable(judge.policy, judge.catalogue)) {}

    /// Puzzles to leave out and try again; empty when everything holds or a whole file does not.
    [[nodiscard]] Blocked culprits() const {
        Blocked culprits;
        for (const auto& [path, work] : m_work) {
            if (!work.culprits.empty()) {
                culprits[path] = work.culprits;
            }
        }
        return culprits;
    }

    Corrections make() {
        first_pass();
        for (int pass = 2; pass <= most_passes && !m_waiting.empty(); ++pass) {
            next_pass();
        }
        look_once_more();
        for (auto& [path, work] : m_work) {
            hold_to_promise(work);
        }
        hold_to_other_rules();
        return collect();
    }

  private:
    using Findings = std::map<std::string, std::vector<Finding>>; // by file

    [[nodiscard]] bool chosen(const Document& document, const Finding& finding) const;
    static void blame(Work& work, std::ptrdiff_t puzzle, const std::string& why);
    [[nodiscard]] Findings judged(std::span<const Document> documents);
    [[nodiscard]] std::vector<Document> waiting_documents() const;
    bool advance(const Document& document, std::vector<Finding> found, Work& work) const;
    void first_pass();
    void next_pass();
    void look_once_more();
    void hold_to_promise(Work& work) const;
    void hold_to_other_rules();
    [[nodiscard]] Corrections collect();

    std::span<const Document> m_documents;
    const Judge& m_judge;
    const Chosen& m_chosen;
    const Blocked& m_blocked;
    rules::Policy m_policy;
    std::map<std::string, Work> m_work;
    std::set<std::string> m_waiting; ///< files that changed in the latest pass
    Findings m_first;
    Errors m_errors;
};

Run::Findings Run::judged(std::span<const Document> documents) {
    const Judge judge{
        m_judge.catalogue, m_policy, rules::Summarise::no, m_judge.jobs, m_judge.progress, {}, nullptr};
    Judged judged = judge.documents(documents, [](const auto&, const auto&) { return true; });
    m_errors.insert(m_errors.end(), judged.errors.begin(), judged.errors.end());
    rules::put_in_order(judged.findings);
    Findings by_file;
    for (Finding& finding : judged.findings) {
        if (finding.fix) {
            by_file[finding.file].push_back(std::move(finding));
        }
    }
    return by_file;
}

bool Run::chosen(const Document& document, const Finding& finding) const {
    const auto blocked = m_blocked.find(document.path);
    return m_chosen(finding) &&
           (blocked == m_blocked.end() || !blocked->second.contains(ordinal_of(document, finding)));
}

void Run::blame(Work& work, std::ptrdiff_t puzzle, const std::string& why) {
    if (work.touched.contains(puzzle)) {
        work.culprits.emplace(puzzle, why);
    }
    if (work.file.refused.empty()) {
        work.file.refused = why;
    }
}

/// Makes what can be made at once. False when nothing was.
bool Run::advance(const Document& document, std::vector<Finding> found, Work& work) const {
    Taking taking;
    for (const Finding& finding : found) {
        if (chosen(document, finding) && taking.take(*finding.fix)) {
            work.touched.insert(ordinal_of(document, finding));
            work.about.insert(about(document, finding));
            work.file.made.push_back(finding);
        }
    }
    work.found = std::move(found);
    const std::vector<Edit> edits = taking.edits();
    if (edits.empty()) {
        return false;
    }
    std::string bytes = collection::edited(document.bytes, edits);
    if (bytes == work.one_before) {
        work.file.refused = fmt::format("the corrections of {} undo each other",
                                        fmt::join(rules_of(work.file.made), " and "));
        return false;
    }
    work.one_before = document.bytes;
    work.file.after = collection::read(document.path, std::move(bytes), m_policy.read);
    return true;
}

void Run::first_pass() {
    m_first = judged(m_documents);
    for (std::size_t i = 0; i < m_documents.size(); ++i) {
        const auto found = m_first.find(m_documents[i].path);
        if (found == m_first.end()) {
            continue;
        }
        Work work;
        work.file.document = i;
        if (advance(m_documents[i], found->second, work)) {
            m_waiting.insert(m_documents[i].path);
            m_work.emplace(m_documents[i].path, std::move(work));
        }
    }
}

std::vector<Document> Run::waiting_documents() const {
    std::vector<Document> documents;
    for (const std::string& path : m_waiting) {
        documents.push_back(m_work.at(path).file.after);
    }
    return documents;
}

void Run::next_pass() {
    const std::vector<Document> documents = waiting_documents();
    Findings found = judged(documents);
    m_waiting.clear();
    for (const Document& document : documents) {
        if (advance(document, std::move(found[document.path]), m_work.at(document.path))) {
            m_waiting.insert(document.path);
        }
    }
}

/// The last pass may have made something too.
void Run::look_once_more() {
    const std::vector<Document> documents = waiting_documents();
    Findings found = documents.empty() ? Findings{} : judged(documents);
    for (const Document& document : documents) {
        Work& work = m_work.at(document.path);
        work.found = std::move(found[document.path]);
        if (std::any_of(work.found.begin(), work.found.end(),
                        [&](const Finding& finding) { return chosen(document, finding); })) {
            work.file.refused = fmt::format("after {} passes {} still found something to correct",
                                            most_passes, fmt::join(rules_of(work.found), " and "));
        }
    }
}

/// It parses as it did, and what was corrected is gone.
void Run::hold_to_promise(Work& work) const {
    const Document& before = m_documents[work.file.document];
    const Document& after = work.file.after;
    if (!work.file.refused.empty()) {
        return;
    }
    if (after.format != before.format || after.puzzles.size() != before.puzzles.size() ||
        faults_of(after) > faults_of(before)) {
        work.file.refused = "corrected it would not be read as before";
        return;
    }
    for (const Finding& finding : work.found) {
        if (work.about.contains(about(after, finding))) {
            blame(work, ordinal_of(after, finding),
                  fmt::format("corrected it would still be told: {}: {}", finding.rule, finding.message));
        }
    }
}

/// All rules on the puzzles that mean something else now, as they were and as they are.
void Run::hold_to_other_rules() {
    std::vector<Document> before;
    std::vector<Document> after;
    std::vector<const Document*> others;
    for (const Document& document : m_documents) {
        const auto work = m_work.find(document.path);
        if (work != m_work.end() && work->second.file.refused.empty()) {
            before.push_back(document);
            after.push_back(work->second.file.after);
        } else {
            others.push_back(&document);
        }
    }
    const auto pairs = history::pair_puzzles(before, after);
    std::set<const collection::Puzzle*> otherwise;
    for (const history::Pair& pair : pairs) {
        const bool notation_only = pair.fields.size() == 1 && pair.fields.front() == "notation";
        if (pair.change != history::Change::same && !notation_only) {
            otherwise.insert({pair.before.puzzle, pair.after.puzzle});
        }
    }
    if (otherwise.empty()) {
        return;
    }
    const auto judge_all = [&](const std::vector<Document>& documents) {
        Judged judged = m_judge.documents(
            documents, [&](const auto&, const auto& puzzle) { return otherwise.contains(&puzzle); });
        std::vector<const Document*> whole = others;
        for (const Document& document : documents) {
            whole.push_back(&document);
        }
        std::sort(whole.begin(), whole.end(), [](const auto* a, const auto* b) { return a->path < b->path; });
        append(judged, m_judge.whole(whole));
        m_errors.insert(m_errors.end(), judged.errors.begin(), judged.errors.end());
        return std::move(judged.findings);
    };
    auto found_before = judge_all(before);
    for (const Finding& finding : history::compare(std::move(found_before), judge_all(after), pairs)) {
        if (finding.status != rules::Status::fresh || finding.severity != rules::Severity::error) {
            continue;
        }
        const auto work = m_work.find(finding.file);
        const std::string why =
            fmt::format("corrected it would have a new error: {}: {}", finding.rule, finding.message);
        for (auto& [path, one] : m_work) { // an error in a file nobody touches is everybody's
            if (work == m_work.end()) {
                one.file.refused = one.file.refused.empty() ? why : one.file.refused;
            } else if (path == work->first) {
                blame(one, ordinal_of(one.file.after, finding), why);
            }
        }
    }
}

Corrections Run::collect() {
    Corrections result;
    result.errors = std::move(m_errors);
    for (const Document& document : m_documents) {
        const auto work = m_work.find(document.path);
        const bool kept = work == m_work.end() || !work->second.file.refused.empty();
        auto& found = kept ? m_first[document.path] : work->second.found;
        result.left.insert(result.left.end(), std::make_move_iterator(found.begin()),
                           std::make_move_iterator(found.end()));
        if (work != m_work.end()) {
            result.files.push_back(std::move(work->second.file));
        }
    }
    return result;
}

} // namespace

Corrections correct(std::span<const Document> documents, const Judge& judge, const Chosen& chosen) {
    constexpr int most_rounds = 4;
    Blocked blocked;
    for (int round = 1;; ++round) {
        Run run(documents, judge, chosen, blocked);
        Corrections result = run.make();
        const Blocked culprits = run.culprits();
        if (culprits.empty() || round == most_rounds) {
            for (const Document& document : documents) {
                for (const auto& [puzzle, why] : blocked[document.path]) {
                    const std::string id =
                        puzzle > 0 ? document.puzzles[static_cast<std::size_t>(puzzle - 1)].id.value : "";
                    result.puzzles_left.push_back({document.path, id, why});
                }
            }
            return result;
        }
        for (const auto& [path, puzzles] : culprits) {
            blocked[path].insert(puzzles.begin(), puzzles.end());
        }
    }
}

} // namespace app
