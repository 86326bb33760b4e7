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
    std::vector<rules::PuzzleSummary> summaries; ///< of the puzzles checked; only for those who ask
    std::vector<std::string> remarks;            ///< what was skipped and why, loosened configuration, ...
    bool overview = false;                       ///< tables of the puzzles checked are wanted
    bool complete = true;                        ///< everything asked for could be read and checked
};

struct Counts {
    std::size_t error = 0, warning = 0, note = 0; ///< gone ones not counted
    std::size_t fresh = 0, still = 0, gone = 0;
};
[[nodiscard]] Counts count(const Report& report);

enum class Colour : std::uint8_t { no, yes };
enum class Closing : std::uint8_t { no, yes }; ///< the counts and remarks behind the findings

enum class Men : std::uint8_t { letters, figurines }; ///< in diagrams

struct Look {
    Colour colour = Colour::no;
    Closing closing = Closing::yes;
    Men men = Men::letters;
    std::size_t width = 0; ///< cells a line may take; 0: unlimited, nothing is wrapped or cut
    std::size_t limit = 0; ///< findings of a rule and status that are told, the rest is counted; 0: all
};

/// For a terminal or a log: first line `path:line:column: severity rule: message`, then excerpt, play and
/// diagram. Compared states come in groups: new ones in full, then first lines of those still there and those
/// gone.
[[nodiscard]] std::string text(const Report& report, const Look& look = {});
/// First lines only.
[[nodiscard]] std::string brief(const Report& report);

/// The stable JSON report. ASCII only; what is no UTF-8 becomes U+FFFD.
[[nodiscard]] std::string json(const Report& report);
/// The same in JSON Lines: an object a line, of type "run", "puzzle", "finding", last "summary".
[[nodiscard]] std::string json_lines(const Report& report);
/// The JSON schema (draft 2020-12) of what json() writes.
[[nodiscard]] std::string json_schema();

struct SarifOptions {
    std::string category;      ///< of the run, where several are uploaded; may be empty
    bool all = false;          ///< findings that are gone too; some consumers take them for open ones
    std::size_t most = 25'000; ///< results; GitHub refuses a run with more
};
/// SARIF 2.1.0, one run; the rules are the catalogue's.
[[nodiscard]] std::string sarif(const Report& report, const rules::Catalogue& catalogue,
                                const SarifOptions& options = {});
/// JUnit XML: a suite a file, a case a puzzle, for which the summaries are needed. What is new or uncompared
/// and no note fails its case.
[[nodiscard]] std::string junit(const Report& report);
/// GitLab's Code Quality report, without what is gone.
[[nodiscard]] std::string code_quality(const Report& report);
/// GitHub's workflow commands, the gravest of what its interface shows; a puzzle is annotated once.
[[nodiscard]] std::string annotations(const Report& report);
/// A job's summary in GitHub Flavored Markdown, at most `most` bytes: further rows are counted.
[[nodiscard]] std::string markdown(const Report& report, std::size_t most = 900 * std::size_t{1024});

/// One HTML page with everything in it: findings with their boards (at most so many), play to step through,
/// filters. It can be read without its script.
[[nodiscard]] std::string html(const Report& report, std::size_t most_boards = 1000);

/// Eight ranks with coordinates; in letters White's men are upper case; the board is seen from `below`.
[[nodiscard]] std::string diagram(const board::Position& position, board::Color below,
                                  Men men = Men::letters);
/// The same of a diagram that cannot be played; marked squares stand in brackets.
[[nodiscard]] std::string diagram(const board::Setup& setup, board::Color below,
                                  std::span<const board::Square> marked = {}, Men men = Men::letters);

/// Text from a collection made harmless for a terminal and a CI log: control and bidi characters as \u{...},
/// invalid UTF-8 as U+FFFD, marks that CI runners obey broken visibly. One line stays one line.
[[nodiscard]] std::string harmless(std::string_view untrusted);

} // namespace report
