#include "rules/check.hpp"

#include "board/fen.hpp"
#include "board/san.hpp"
#include "rules/themes.hpp"

#include <algorithm>
#include <array>
#include <exception>
#include <iterator>

#include <fmt/format.h>

namespace rules {

namespace {

const collection::Allowance* allowance_for(const collection::Puzzle& puzzle, const Finding& finding) {
    // The two rules about allowances cannot be allowed away by one.
    if (finding.rule == "file/unused-allowance" || finding.rule == "file/unreasoned-allowance") {
        return nullptr;
    }
    for (const collection::Allowance& allowance : puzzle.allowances) {
        if (allowance.rule == finding.rule) {
            return &allowance;
        }
    }
    return nullptr;
}

/// The puzzle a finding stands in; nothing for findings about a file.
const collection::Puzzle* owner_of(const Finding& finding,
                                   std::span<const collection::Document* const> documents) {
    const auto document = std::lower_bound(
        documents.begin(), documents.end(), finding.file,
        [](const collection::Document* d, const std::string& path) { return d->path < path; });
    if (finding.puzzle.empty() || document == documents.end() || (*document)->path != finding.file) {
        return nullptr;
    }
    const auto& puzzles = (*document)->puzzles;
    const auto behind =
        std::upper_bound(puzzles.begin(), puzzles.end(), finding.span.begin,
                         [](std::size_t at, const collection::Puzzle& p) { return at < p.span.begin; });
    return behind == puzzles.begin() ? nullptr : &*std::prev(behind);
}

/// Fingerprints, allowances, order.
void settle(Checked& checked, std::span<const collection::Document* const> documents) {
    std::vector<Finding> kept;
    for (Finding& finding : checked.findings) {
        finding.fingerprint = fingerprint_of(
            finding.puzzle.empty() ? std::string_view(finding.file) : finding.fingerprint, finding);
        const collection::Puzzle* const puzzle = owner_of(finding, documents);
        const bool silenced = puzzle != nullptr && allowance_for(*puzzle, finding) != nullptr;
        (silenced ? checked.allowed : kept).push_back(std::move(finding));
    }
    checked.findings = std::move(kept);
    put_in_order(checked.findings);
    put_in_order(checked.allowed);
}

/// Runs `check` for one rule; what it throws is our own fault and never ends the run.
template <class Check>
void guarded(Checked& checked, const RuleEntry& entry, std::pair<Severity, bool> level, std::string_view on,
             Check check) {
    const auto [severity, configured] = level;
    if (severity == Severity::off) {
        return;
    }
    Findings findings(entry, severity, configured, checked.findings);
    try {
        check(findings);
    } catch (const std::exception& fault) {
        checked.broken.push_back(fmt::format("{} on {}: {}", entry.id, on, fault.what()));
    }
}

/// Gives findings the level their rule has for the file they stand in.
void set_levels(std::vector<Finding>& findings, const RuleEntry& entry, const Policy& policy) {
    for (Finding& finding : findings) {
        const auto [severity, configured] = level_of(entry, policy.for_file(finding.file));
        const Message* const message = entry.message(finding.message_id);
        const bool of_message = message != nullptr && message->severity && !configured;
        finding.severity = of_message ? *message->severity : severity;
    }
    std::erase_if(findings, [](const Finding& finding) { return finding.severity == Severity::off; });
}

std::string verdict_word(const solve::MoveVerdict& verdict, const PuzzleView& view) {
    if (verdict.value.mate_in && *verdict.value.mate_in > 0) {
        return "mates";
    }
    if (verdict.reaches_goal == solve::Answer::open) {
        return "open";
    }
    if (verdict.reaches_goal == solve::Answer::no) {
        return "falls short";
    }
    const collection::GoalKind goal = view.goal().kind;
    if (goal == collection::GoalKind::draw || goal == collection::GoalKind::hold) {
        return "holds";
    }
    return goal == collection::GoalKind::best ? "best" : "wins";
}

PuzzleSummary summary_of(const PuzzleView& view) {
    const collection::Puzzle& puzzle = view.puzzle();
    PuzzleSummary summary;
    summary.id = puzzle.id.value;
    summary.file = view.document().path;
    summary.line = view.document().place(puzzle.span.begin).line;
    summary.fen = view.position() ? board::write_fen(view.position()->setup()) : puzzle.fen.value;
    summary.goal_stated = view.goal_stated();
    summary.goal_from = puzzle.goal ? puzzle.goal_by_caption ? "caption" : "field" : "";
    summary.moves = (puzzle.solution.main_line().size() + 1) / 2;
    if (!view.can_judge_play()) {
        summary.goal = puzzle.goal ? collection::write_goal(puzzle.goal->value) : "";
        return summary;
    }
    summary.goal = collection::write_goal(view.goal());
    summary.goal_from = puzzle.goal ? summary.goal_from : "line";
    if (const solve::MoveVerdict* key = view.table().of(*view.key())) {
        PuzzleSummary::Key told{board::write_san(*view.position(), key->move),
                                verdict_word(*key, view),
                                key->certainty,
                                std::nullopt,
                                key->value.mate_in,
                                key->value.mate_in && key->value_is != solve::ValueIs::exact};
        if (!key->value.mate_in) {
            told.score = key->value.score;
        }
        summary.key = std::move(told);
    }
    for (const motif::Evidence& evidence : view.motifs()) {
        if (evidence.level != motif::Level::seen) {
            summary.motifs.push_back({evidence.motif, evidence.ply + 1, declares(view, evidence.motif),
                                      evidence.strength, evidence.certainty, evidence.targets, evidence.why});
        }
    }
    summary.nodes = view.solver().nodes_used();
    return summary;
}

} // namespace

bool on_somewhere(const RuleEntry& rule, const Policy& policy) {
    const auto switched_on = [&](const Override& change) {
        Settings alone;
        alone.levels = change.levels;
        const auto [severity, configured] = level_of(rule, alone);
        return configured && severity != Severity::off;
    };
    return level_of(rule, policy.settings).first != Severity::off ||
           std::any_of(policy.overrides.begin(), policy.overrides.end(), switched_on);
}

std::pair<Severity, bool> level_of(const RuleEntry& rule, const Settings& settings) {
    const std::string family = rule.id.substr(0, rule.id.find('/')) + "/*";
    for (const std::string& name : {rule.id, family}) {
        if (const auto found = settings.levels.find(name); found != settings.levels.end()) {
            return {found->second, true};
        }
    }
    return {rule.severity, false};
}

std::string option_of(const RuleEntry& rule, std::string_view option, const Settings& settings) {
    if (const auto own = settings.options.find(rule.id); own != settings.options.end()) {
        if (const auto value = own->second.find(option); value != own->second.end()) {
            return value->second;
        }
    }
    const auto spec = std::find_if(rule.options.begin(), rule.options.end(),
                                   [&](const OptionSpec& known) { return known.name == option; });
    return spec == rule.options.end() ? "" : spec->fallback;
}

Checked check_puzzle(const collection::Document& document, const collection::Puzzle& puzzle,
                     const Catalogue& catalogue, const Settings& settings, Summarise summarise) {
    Checked checked;
    const PuzzleView view(document, puzzle, catalogue, settings);
    for (const Rule& rule : registry()) {
        const auto* const check = std::get_if<PuzzleRule>(&rule.check);
        const RuleEntry* const entry = catalogue.rule(rule.id);
        if (check != nullptr && entry != nullptr) {
            guarded(checked, *entry, level_of(*entry, settings), puzzle.id.value,
                    [&](Findings& findings) { (*check)(view, findings); });
        }
    }
    const std::vector<Finding> found = checked.findings;
    for (const Rule& rule : registry()) {
        const auto* const check = std::get_if<AfterRule>(&rule.check);
        const RuleEntry* const entry = catalogue.rule(rule.id);
        if (check != nullptr && entry != nullptr) {
            guarded(checked, *entry, level_of(*entry, settings), puzzle.id.value,
                    [&](Findings& findings) { (*check)(view, found, findings); });
        }
    }
    if (summarise == Summarise::yes) {
        checked.summary = summary_of(view);
    }
    settle(checked, std::array{&document});
    return checked;
}

Checked check_document(const collection::Document& document, const Catalogue& catalogue,
                       const Settings& settings) {
    Checked checked;
    const DocumentView view{document, settings, catalogue};
    for (const Rule& rule : registry()) {
        const auto* const check = std::get_if<DocumentRule>(&rule.check);
        const RuleEntry* const entry = catalogue.rule(rule.id);
        if (check != nullptr && entry != nullptr) {
            guarded(checked, *entry, level_of(*entry, settings), document.path,
                    [&](Findings& findings) { (*check)(view, findings); });
        }
    }
    settle(checked, std::array{&document});
    return checked;
}

Checked check_collection(std::span<const collection::Document* const> documents, const Catalogue& catalogue,
                         const Policy& policy) {
    Checked checked;
    const CollectionView view{documents, policy, catalogue};
    for (const Rule& rule : registry()) {
        const auto* const check = std::get_if<CollectionRule>(&rule.check);
        const RuleEntry* const entry = catalogue.rule(rule.id);
        if (check == nullptr || entry == nullptr || !on_somewhere(*entry, policy)) {
            continue;
        }
        Checked one;
        guarded(one, *entry, {Severity::error, false}, "the collection",
                [&](Findings& findings) { (*check)(view, findings); });
        set_levels(one.findings, *entry, policy);
        std::move(one.findings.begin(), one.findings.end(), std::back_inserter(checked.findings));
        std::move(one.broken.begin(), one.broken.end(), std::back_inserter(checked.broken));
    }
    settle(checked, documents);
    return checked;
}

} // namespace rules
