#pragma once
// What a run has to tell, ready for any writer.

#include "rules/catalogue.hpp"
#include "rules/check.hpp"
#include "rules/finding.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace report {

struct Report {
    std::string version;
    std::string effort;
    std::optional<std::string> against;      ///< commit compared with, hex
    std::string against_name;                ///< as people know it
    std::size_t files = 0;                   ///< puzzle files read
    std::size_t puzzles = 0;                 ///< puzzles checked
    std::size_t unchanged = 0;               ///< puzzles left unchecked because neither state differs
    std::size_t allowed = 0;                 ///< findings silenced by an allowance
    std::vector<rules::Finding> findings;    ///< in order
    std::vector<rules::PuzzleSummary> summaries; ///< only when asked for
    std::vector<std::string> remarks;        ///< what was skipped and why, loosened configuration, ...
};

struct Counts {
    std::size_t error = 0, warning = 0, note = 0; ///< gone ones not counted
    std::size_t fresh = 0, still = 0, gone = 0;
};
[[nodiscard]] Counts count(const Report& report);

enum class Colour : std::uint8_t { no, yes };

/// For a terminal or a log: first line `path:line:column: severity rule: message`, then excerpt, play and diagram.
[[nodiscard]] std::string text(const Report& report, Colour colour);
/// First lines only.
[[nodiscard]] std::string brief(const Report& report);
/// The stable JSON report.
[[nodiscard]] std::string json(const Report& report);

/// Eight ranks with coordinates; White's men upper case; the board is seen from `below`.
[[nodiscard]] std::string diagram(const board::Position& position, board::Color below);

/// Text from a collection made harmless for a terminal and a CI log: control and bidi characters as \u{...}, invalid UTF-8 as
/// U+FFFD, line starts that CI runners obey broken visibly.
[[nodiscard]] std::string harmless(std::string_view untrusted);

} // namespace report
