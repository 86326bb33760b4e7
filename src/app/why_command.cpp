// sidelint check --why PUZZLE: what was asked about one puzzle, of whom, and what was found.

#include "app/baseline.hpp"
#include "app/commands.hpp"
#include "app/config_origin.hpp"
#include "app/examine.hpp"
#include "app/key_table_text.hpp"
#include "app/motifs_text.hpp"
#include "app/output.hpp"
#include "app/words.hpp"
#include "board/fen.hpp"
#include "rules/check.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

namespace app {
namespace {

using collection::Document;
using collection::Puzzle;

/// All that a run knows.
struct Whole {
    const rules::Catalogue& catalogue;
    const Origins& origins;
    const Subject& subject;
    const std::vector<report::BaselineEntry>& baseline;
    const rules::Policy& policy; ///< with endgame tables
};

/// What came of one puzzle.
struct PuzzleFindings {
    std::vector<rules::Finding> told;
    std::vector<rules::Finding> allowed;
    solve::Nodes nodes = 0; ///< positions visited for all of it
};

void take(std::vector<rules::Finding>& into, std::vector<rules::Finding>& from, const Document& document,
          const Puzzle& puzzle) {
    for (rules::Finding& finding : from) {
        const bool within = puzzle.span.begin <= finding.span.begin && finding.span.begin < puzzle.span.end;
        if (finding.file == document.path && !finding.puzzle.empty() && within) {
            into.push_back(std::move(finding));
        }
    }
}

PuzzleFindings found_in(const Whole& whole, const Document& document, const Puzzle& puzzle,
                        const rules::Settings& settings) {
    std::vector<const Document*> documents;
    for (const Document& one : whole.subject.documents) {
        documents.push_back(&one);
    }
    PuzzleFindings found;
    for (rules::Checked& checked :
         std::array{rules::check_puzzle(document, puzzle, whole.catalogue, settings, rules::Summarise::yes),
                    rules::check_document(document, whole.catalogue, settings),
                    rules::check_collection(documents, whole.catalogue, whole.policy)}) {
        take(found.told, checked.findings, document, puzzle);
        take(found.allowed, checked.allowed, document, puzzle);
        found.nodes += checked.summary ? checked.summary->nodes : 0;
    }
    return found;
}

std::string origin(const std::string& from) {
    return from == "default" ? "" : fmt::format(" ({})", from);
}

std::string goal_text(const rules::PuzzleView& view) {
    const Puzzle& puzzle = view.puzzle();
    if (puzzle.goal) {
        return fmt::format("{}, stated by a {}", collection::write_goal(puzzle.goal->value),
                           puzzle.goal_by_caption ? "caption" : "field");
    }
    return view.can_judge_play() ? collection::write_goal(view.goal()) + ", inferred from the line"
                                 : "not stated";
}

std::string settings_text(const Whole& whole, const rules::Settings& settings, const std::string& path) {
    return fmt::format("{} effort{}, win-at {:.2f}{}, near {:.2f}{}, uniqueness {}{}, lines {}{}",
                       solve::name(settings.effort), origin(whole.origins.of_key("effort", path)),
                       settings.win_at / 100.0, origin(whole.origins.of_key("win-at", path)),
                       settings.near / 100.0, origin(whole.origins.of_key("near", path)),
                       settings.uniqueness == rules::Uniqueness::strict ? "strict" : "usual",
                       origin(whole.origins.of_key("uniqueness", path)), rules::name(settings.lines),
                       origin(whole.origins.of_key("lines", path)));
}

std::string head_text(const Whole& whole, const rules::PuzzleView& view) {
    const Puzzle& puzzle = view.puzzle();
    const Document& document = view.document();
    std::string text = fmt::format("{}: {}:{}\n\n", report::harmless(puzzle.id.value),
                                   report::harmless(document.path), document.place(puzzle.span.begin).line);
    if (view.position()) {
        text += report::diagram(*view.position(), board::Color::white) + '\n';
    } else if (puzzle.reading.usable) {
        text += report::diagram(puzzle.reading.setup, board::Color::white) + '\n';
    }
    std::vector<std::vector<std::string>> rows{{"FEN", puzzle.fen.value}, {"goal", goal_text(view)}};
    const auto& span = puzzle.solution_span;
    std::string solution = document.bytes.substr(span.begin, span.end - span.begin);
    std::replace(solution.begin(), solution.end(), '\n', ' ');
    std::replace(solution.begin(), solution.end(), '\r', ' ');
    rows.push_back({"solution", solution.empty() ? "none" : solution});
    std::vector<std::string> themes;
    for (const auto& theme : puzzle.themes) {
        themes.push_back(theme.value);
    }
    rows.push_back({"themes", themes.empty() ? "none" : fmt::format("{}", fmt::join(themes, ", "))});
    rows.push_back({"judged by", settings_text(whole, view.settings(), document.path)});
    return text + in_columns(rows);
}

std::string not_judged(const rules::PuzzleView& view) {
    return !view.position()                     ? "the diagram cannot be played"
           : !view.position()->has_legal_move() ? "the game is over"
           : view.side_in_doubt()               ? "whose move it is stands in doubt"
           : !view.key()                        ? "there is no key that can be played"
                                                : "the goal is none that can be tested";
}

std::string play_text(const rules::PuzzleView& view) {
    constexpr std::size_t most_moves = 12;
    if (!view.can_judge_play()) {
        return fmt::format("\nPlay was not judged: {}.\n", not_judged(view));
    }
    std::vector<board::Move> line;
    for (const std::size_t node : view.puzzle().solution.main_line()) {
        line.push_back(view.puzzle().solution.nodes[node].move);
    }
    return fmt::format("\nFirst moves\n{}\n{}",
                       indented(key_table_text(*view.position(), view.table(), true, most_moves), "  "),
                       motifs_text(*view.position(), line, view.motifs()));
}

/// "error, .sidelint.yaml:4"
std::string level_text(const Whole& whole, const rules::RuleEntry& rule, const rules::PuzzleView& view) {
    return fmt::format("{}{}", rules::name(rules::level_of(rule, view.settings()).first),
                       origin(whole.origins.of_level(rule.id, view.document().path)));
}

std::string reason_for(const Puzzle& puzzle, const std::string& rule) {
    for (const collection::Allowance& allowance : puzzle.allowances) {
        if (allowance.rule == rule) {
            return allowance.why.empty() ? "without a reason" : fmt::format("\"{}\"", allowance.why);
        }
    }
    return "";
}

std::string found_text(const Whole& whole, const rules::PuzzleView& view, const rules::Finding& finding) {
    const bool accepted =
        std::any_of(whole.baseline.begin(), whole.baseline.end(), [&](const report::BaselineEntry& entry) {
            return entry.fingerprint == finding.fingerprint;
        });
    const bool as_the_rule =
        finding.severity == rules::level_of(*whole.catalogue.rule(finding.rule), view.settings()).first;
    return fmt::format("{}{}{}{}", accepted ? "accepted by the baseline: " : "",
                       as_the_rule ? "" : fmt::format("({}) ", rules::name(finding.severity)),
                       finding.message,
                       finding.certainty ? fmt::format(" ({})", solve::name(*finding.certainty)) : "");
}

/// Those that found something first.
std::string rules_text(const Whole& whole, const rules::PuzzleView& view, const PuzzleFindings& found) {
    std::vector<std::vector<std::string>> rows;
    std::vector<std::vector<std::string>> silent;
    for (const rules::RuleEntry& rule : whole.catalogue.rules()) {
        const std::string level = level_text(whole, rule, view);
        const std::size_t before = rows.size();
        for (const rules::Finding& finding : found.told) {
            if (finding.rule == rule.id) {
                rows.push_back({"  " + rule.id, level, found_text(whole, view, finding)});
            }
        }
        for (const rules::Finding& finding : found.allowed) {
            if (finding.rule == rule.id) {
                rows.push_back(
                    {"  " + rule.id, level,
                     fmt::format("allowed, {}: {}", reason_for(view.puzzle(), rule.id), finding.message)});
            }
        }
        if (rows.size() == before) {
            const bool off = rules::level_of(rule, view.settings()).first == rules::Severity::off;
            silent.push_back({"  " + rule.id, level, off ? "not asked" : "nothing"});
        }
    }
    rows.insert(rows.end(), silent.begin(), silent.end());
    return "\nRules\n" + in_columns(rows);
}

std::string puzzle_text(const Whole& whole, const Document& document, const Puzzle& puzzle) {
    const rules::Settings settings = whole.policy.for_file(document.path);
    const rules::PuzzleView view(document, puzzle, whole.catalogue, settings);
    const PuzzleFindings found = found_in(whole, document, puzzle, settings);
    return head_text(whole, view) + play_text(view) + rules_text(whole, view, found) +
           fmt::format("\nSearched {} positions, of {} at most.\n", found.nodes,
                       solve::budget_of(settings.effort).puzzle);
}

/// By its id, or by the place it begins at.
bool is_meant(const Document& document, const Puzzle& puzzle, const std::string& asked) {
    return puzzle.id.value == asked ||
           fmt::format("{}:{}", document.path, document.place(puzzle.span.begin).line) == asked;
}

Error no_such_puzzle(const Subject& subject, const std::string& asked) {
    std::vector<std::string> ids;
    for (const Document& document : subject.documents) {
        for (const Puzzle& puzzle : document.puzzles) {
            ids.push_back(puzzle.id.value);
        }
    }
    std::sort(ids.begin(), ids.end());
    ids.erase(std::unique(ids.begin(), ids.end()), ids.end());
    const auto near = rules::nearest(asked, ids);
    return usage_error(fmt::format("--why: no puzzle here is called '{}'", asked),
                       near.empty() ? "name it by its id, or by file:line where it begins"
                                    : fmt::format("did you mean {}?", fmt::join(near, " or ")));
}

} // namespace

int run_why(const CheckOptions& options, const Streams& streams, const Environment& environment) {
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    if (!catalogue) {
        return end_with(streams, std::array{Error{Error::Kind::internal, catalogue.error(), {}, {}}});
    }
    std::vector<report::BaselineEntry> baseline;
    if (options.baseline) {
        auto loaded = load_baseline(*options.baseline, environment);
        if (!loaded) {
            return end_with(streams, std::array{loaded.error()});
        }
        baseline = std::move(loaded).value();
    }
    const auto workspace = find_workspace(environment, options.places(), std::nullopt);
    if (!workspace) {
        return end_with(streams, std::array{workspace.error()});
    }
    const auto configuration = configuration_here(options, environment, *workspace, *catalogue);
    if (!configuration) {
        return end_with(streams, configuration.error());
    }
    const Means means(options, environment);
    const auto subject = load_files(options, environment, *catalogue, {}, means.jobs);
    if (!subject) {
        return end_with(streams, subject.error());
    }
    rules::Policy policy = subject->policy;
    policy.settings.endgames = &means.endgames;
    const Origins origins(*configuration, options);
    const Whole whole{*catalogue, origins, *subject, baseline, policy};
    std::string text;
    for (const Document& document : subject->documents) {
        for (const Puzzle& puzzle : document.puzzles) {
            if (is_meant(document, puzzle, *options.why)) {
                text += (text.empty() ? "" : "\n") + puzzle_text(whole, document, puzzle);
            }
        }
    }
    std::vector<Error> errors = subject->errors;
    if (text.empty()) {
        errors.push_back(no_such_puzzle(*subject, *options.why));
        return end_with(streams, errors);
    }
    for (Error& error : print(streams, folded(text, width_for(streams, environment)))) {
        errors.push_back(std::move(error));
    }
    return end_with(streams, errors);
}

} // namespace app
