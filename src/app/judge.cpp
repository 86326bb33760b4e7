#include "app/judge.hpp"

#include "app/memory.hpp"
#include "app/outcome.hpp"
#include "app/remembered.hpp"
#include "app/schedule.hpp"

#include <exception>
#include <iterator>

namespace app {
namespace {

/// What one thread does at a time: a puzzle, or the rules about a document.
struct Unit {
    std::size_t document = 0;
    const collection::Puzzle* puzzle = nullptr; ///< nullptr: the document
};

template <class T> void move_behind(std::vector<T>& into, std::vector<T>& from) {
    into.insert(into.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

Error our_fault(const std::string& what) {
    return {Error::Kind::internal,
            "internal error: " + what,
            {},
            "please report this; all other puzzles were checked"};
}

void take(Judged& into, rules::Checked& checked, bool allowed_too) {
    move_behind(into.findings, checked.findings);
    if (allowed_too) {
        move_behind(into.findings, checked.allowed);
    } else {
        into.allowed += checked.allowed.size();
    }
    if (checked.summary) {
        into.summaries.push_back(std::move(*checked.summary));
    }
    for (const std::string& broken : checked.broken) {
        into.errors.push_back(our_fault(broken));
    }
}

/// What an earlier run found, else what the rules find.
rules::Checked check(const Judge& judge, const collection::Document& document,
                     const collection::Puzzle& puzzle, const rules::Settings& settings,
                     std::string_view context) {
    if (judge.memory == nullptr) {
        return rules::check_puzzle(document, puzzle, judge.catalogue, settings, judge.summarise);
    }
    std::string key = key_of(document, puzzle, context);
    if (const auto bytes = judge.memory->find(key)) {
        if (auto checked = unpacked(*bytes, document, puzzle)) {
            return std::move(*checked);
        }
    }
    auto checked = rules::check_puzzle(document, puzzle, judge.catalogue, settings, judge.summarise);
    if (auto bytes = packed(checked, puzzle)) {
        judge.memory->keep(std::move(key), std::move(*bytes));
    }
    return checked;
}

/// Lines and columns of what the fixes change.
void place_fixes(std::vector<rules::Finding>& findings, const collection::Document& document) {
    for (rules::Finding& finding : findings) {
        if (finding.fix) {
            finding.fix->places.clear();
            for (const collection::Edit& edit : finding.fix->edits) {
                finding.fix->places.push_back(
                    {document.place(edit.span.begin), document.place(edit.span.end)});
            }
        }
    }
}

/// What one document came to, for the next run. Nothing when that is a fault of ours.
std::optional<FileOutcome> outcome_of(const collection::Document& document,
                                      std::span<const rules::Checked> results) {
    FileOutcome outcome;
    outcome.puzzles = document.puzzles.size();
    outcome.marks = rules::marks_of(document);
    for (const rules::Checked& checked : results) {
        if (!checked.broken.empty()) {
            return std::nullopt;
        }
        outcome.allowed.insert(outcome.allowed.end(), checked.allowed.begin(), checked.allowed.end());
        outcome.findings.insert(outcome.findings.end(), checked.findings.begin(), checked.findings.end());
        if (checked.summary) {
            outcome.summaries.push_back(*checked.summary);
        }
    }
    return outcome;
}

void keep_files_of(const Judge& judge, std::span<const collection::Document> documents,
                   std::span<const rules::Settings> settings, std::span<const rules::Checked> results) {
    for (std::size_t i = 0; i < documents.size(); ++i) {
        const collection::Document& document = documents[i];
        const std::size_t units = document.puzzles.size() + 1; // it and its puzzles
        const auto outcome = outcome_of(document, results.first(units));
        results = results.subspan(units);
        if (outcome && document.format != collection::Format::none) {
            judge.memory->keep(
                key_of_file(document.path, document.bytes, judge.policy, settings[i], judge.summarise),
                pack_outcome(*outcome));
        }
    }
}

} // namespace

Judged Judge::documents(std::span<const collection::Document> documents, const Wanted& wanted) const {
    std::vector<Unit> units;
    std::vector<rules::Settings> settings;
    std::vector<std::string> contexts;
    Judged judged;
    for (std::size_t i = 0; i < documents.size(); ++i) {
        settings.push_back(policy.for_file(documents[i].path));
        contexts.push_back(memory == nullptr ? ""
                                             : context_of(documents[i], policy, settings.back(), summarise));
        if (shard.is_first()) {
            units.push_back({i, nullptr});
        }
        for (const collection::Puzzle& puzzle : documents[i].puzzles) {
            if (wanted(documents[i], puzzle)) {
                units.push_back({i, &puzzle});
                ++judged.puzzles;
            }
        }
    }
    progress.expect(judged.puzzles);

    std::vector<rules::Checked> results(units.size());
    for_each_index(units.size(), jobs, [&](std::size_t i) {
        const Unit unit = units[i];
        const collection::Document& document = documents[unit.document];
        try {
            results[i] =
                unit.puzzle == nullptr
                    ? rules::check_document(document, catalogue, settings[unit.document])
                    : check(*this, document, *unit.puzzle, settings[unit.document], contexts[unit.document]);
        } catch (const std::exception& fault) {
            const std::string& name = unit.puzzle == nullptr ? document.path : unit.puzzle->id.value;
            results[i].broken.push_back(name + ": " + fault.what());
        }
        place_fixes(results[i].findings, document);
        place_fixes(results[i].allowed, document);
        if (unit.puzzle != nullptr) {
            progress.advance();
        }
    });
    if (memory != nullptr && keep_files) {
        keep_files_of(*this, documents, settings, results);
    }
    for (rules::Checked& checked : results) {
        take(judged, checked, allowed_too);
    }
    return judged;
}

Judged Judge::whole(std::span<const collection::Document* const> documents) const {
    Judged judged;
    rules::Checked checked = rules::check_collection(documents, catalogue, policy);
    take(judged, checked, allowed_too);
    return judged;
}

void append(Judged& into, Judged more) {
    move_behind(into.findings, more.findings);
    move_behind(into.summaries, more.summaries);
    move_behind(into.errors, more.errors);
    into.puzzles += more.puzzles;
    into.allowed += more.allowed;
}

} // namespace app
