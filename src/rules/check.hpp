#pragma once
// Runs the rules and settles what is reported: severities, allowances, order.

#include "rules/rule.hpp"

#include <optional>
#include <string>
#include <vector>

namespace rules {

/// What is known about a puzzle besides findings (JSON `puzzles`).
struct PuzzleSummary {
    std::string id;
    std::string file;
    std::size_t line = 1;
    std::string fen;
    std::string goal;
    bool goal_stated = false;
    std::string_view
        goal_from;         ///< what states it: "field", "caption" or, inferred, "line"; "" when nothing does
    std::size_t moves = 0; ///< of the solver in the main line, as far as it can be played
    struct Key {
        std::string san;
        std::string verdict; ///< wins, mates, holds, falls short, open
        solve::Certainty certainty = solve::Certainty::open;
        std::optional<int> score; ///< hundredths of a pawn
        std::optional<int> mate_in;
        bool mate_at_most = false; ///< there may be a shorter one
    };
    std::optional<Key> key;
    struct Motif {
        std::string motif;
        std::size_t ply = 0; ///< 1 for the key
        bool declared = false;
        motif::Strength strength = motif::Strength::incidental;
        solve::Certainty certainty = solve::Certainty::proved;
        std::vector<board::Square> squares;
        std::string why;
    };
    std::vector<Motif> motifs;
    solve::Nodes nodes = 0;
};

struct Checked {
    std::vector<Finding> findings;
    std::vector<Finding> allowed;         ///< silenced by an allowance; counted, shown on request
    std::optional<PuzzleSummary> summary; ///< of a puzzle, when asked for
    std::vector<std::string>
        broken; ///< our own faults: "key/cook on harbour-001: <what>"; the run ends with status 3
};

enum class Summarise : std::uint8_t { no, yes };

/// All puzzle rules on one puzzle.
[[nodiscard]] Checked check_puzzle(const collection::Document& document, const collection::Puzzle& puzzle,
                                   const Catalogue& catalogue, const Settings& settings, Summarise summarise);
/// All document rules on one document.
[[nodiscard]] Checked check_document(const collection::Document& document, const Catalogue& catalogue,
                                     const Settings& settings);
/// All collection rules on everything read. The file a finding stands in decides its level.
[[nodiscard]] Checked check_collection(std::span<const collection::Document* const> documents,
                                       const Catalogue& catalogue, const Policy& policy);

/// Where a finding stands, and the line it stands on.
void place(Finding& finding, const collection::Document& document, collection::Span span);

/// The rule may speak of some file: it is not off everywhere.
[[nodiscard]] bool on_somewhere(const RuleEntry& rule, const Policy& policy);

/// Severity a rule has under these settings, and whether the configuration said so.
[[nodiscard]] std::pair<Severity, bool> level_of(const RuleEntry& rule, const Settings& settings);

/// Value of a rule's option under these settings, else the catalogue's default; empty for one nobody knows.
[[nodiscard]] std::string option_of(const RuleEntry& rule, std::string_view option, const Settings& settings);

} // namespace rules
