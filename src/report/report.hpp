#pragma once
// What a run has to tell, ready for any writer.

#include "rules/catalogue.hpp"
#include "rules/check.hpp"
#include "rules/finding.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace report {

enum class Detail : std::uint8_t {
    findings,
    puzzles, ///< json tells of every puzzle
    proofs,  ///< json carries the certificate of every mate that a finding rests on
};

/// The proof of the mate that a finding rests on.
struct Proof {
    std::string certificate; ///< empty: none
    std::string refusal;     ///< why a mate has none; empty: it has one, or there is no mate
};

struct Report {
    std::string version;
    std::string effort;
    std::optional<std::string> against;   ///< commit compared with, hex
    std::string against_name;             ///< as people know it; empty when nothing was compared
    std::size_t files = 0;                ///< puzzle files read
    std::size_t puzzles = 0;              ///< puzzles checked
    std::size_t unchanged = 0;            ///< puzzles left unchecked because neither state differs
    std::size_t allowed = 0;              ///< findings silenced by an allowance
    std::size_t accepted = 0;             ///< findings that the baseline accepts
    std::vector<rules::Finding> findings; ///< in order
    Detail detail = Detail::findings;
    std::vector<Proof> proofs;                   ///< by finding; only with Detail::proofs
    std::vector<rules::PuzzleSummary> summaries; ///< only with Detail::puzzles
    std::vector<std::string> remarks;            ///< what was skipped and why, loosened configuration, ...
};

struct Counts {
    std::size_t error = 0, warning = 0, note = 0; ///< gone ones not counted
    std::size_t fresh = 0, still = 0, gone = 0;
};
[[nodiscard]] Counts count(const Report& report);

enum class Colour : std::uint8_t { no, yes };
enum class Closing : std::uint8_t { no, yes }; ///< the counts and remarks behind the findings

/// For a terminal or a log: first line `path:line:column: severity rule: message`, then excerpt, play and
/// diagram. Compared states come in groups: new ones in full, then first lines of those still there and those
/// gone.
[[nodiscard]] std::string text(const Report& report, Colour colour, Closing closing = Closing::yes);
/// First lines only.
[[nodiscard]] std::string brief(const Report& report);
/// The stable JSON report. ASCII only; what is no UTF-8 becomes U+FFFD.
[[nodiscard]] std::string json(const Report& report);
/// The JSON schema (draft 2020-12) of what json() writes.
[[nodiscard]] std::string json_schema();

/// Eight ranks with coordinates; White's men upper case; the board is seen from `below`.
[[nodiscard]] std::string diagram(const board::Position& position, board::Color below);
/// The same of a diagram that cannot be played; marked squares stand in brackets.
[[nodiscard]] std::string diagram(const board::Setup& setup, board::Color below,
                                  std::span<const board::Square> marked = {});

/// Text from a collection made harmless for a terminal and a CI log: control and bidi characters as \u{...},
/// invalid UTF-8 as U+FFFD, marks that CI runners obey broken visibly. One line stays one line.
[[nodiscard]] std::string harmless(std::string_view untrusted);

} // namespace report
