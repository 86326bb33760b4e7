#pragma once
// How a repository wants to be judged: the configuration, read (by app) and resolved for one file.

#include "collection/document.hpp"
#include "motif/motif.hpp"
#include "rules/finding.hpp"
#include "solve/verdict.hpp"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace solve {
class EndgameTables;
}

namespace rules {

enum class Uniqueness : std::uint8_t { usual, strict };
/// Which printed lines claim to be complete: none beyond the key, the main line, every sideline too.
enum class Lines : std::uint8_t { key, main, full };

[[nodiscard]] std::string_view name(Lines lines);

/// Everything a rule may ask about, for one file.
struct Settings {
    const solve::EndgameTables* endgames =
        nullptr; ///< shared by the run, outlives it; none: no exact endings
    solve::Effort effort = solve::Effort::review;
    int win_at = 200; ///< hundredths of a pawn: from here a position is won
    int near = 100;   ///< hundredths of a pawn: within this a move is as good as the key
    Uniqueness uniqueness = Uniqueness::usual;
    Lines lines = Lines::main;
    std::map<std::string, Severity, std::less<>> levels; ///< by rule id or family ("theme/*")
    std::map<std::string, std::map<std::string, std::string, std::less<>>, std::less<>>
        options; ///< rule id, option, value
    std::map<std::string, std::vector<std::string>, std::less<>>
        themes;       ///< folded own word to the motifs it may mean; none: known, not checked
    motif::Wide wide; ///< disputed motifs taken in their wider reading
};

/// What an `overrides:` entry changes for the files it fits.
struct Override {
    std::string files; ///< glob
    std::optional<solve::Effort> effort;
    std::optional<int> win_at;
    std::optional<int> near;
    std::optional<Uniqueness> uniqueness;
    std::optional<Lines> lines;
    std::map<std::string, Severity, std::less<>> levels;
    std::map<std::string, std::map<std::string, std::string, std::less<>>, std::less<>> options;
};

struct Policy {
    std::vector<std::string> include; ///< globs; empty: everything that is a puzzle file
    std::vector<std::string> exclude;
    collection::ReadOptions read;
    Settings settings;
    std::vector<Override> overrides; ///< later ones win

    [[nodiscard]] Settings for_file(std::string_view path) const;
    /// Neither excluded nor outside `include`.
    [[nodiscard]] bool wants(std::string_view path) const;
};

} // namespace rules
