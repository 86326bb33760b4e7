#pragma once
// What a rule says about a puzzle.

#include "board/position.hpp"
#include "collection/edit.hpp"
#include "solve/verdict.hpp"

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace rules {

enum class Severity : std::uint8_t { off, note, warning, error };
[[nodiscard]] std::string_view name(Severity severity);
[[nodiscard]] std::optional<Severity> read_severity(std::string_view text);

/// Against another state of the repository.
enum class Status : std::uint8_t { none, fresh, still, gone };
[[nodiscard]] std::string_view name(Status status); ///< "new", "still", "gone", "" for none

/// A correction in place.
struct Fix {
    enum class Kind : std::uint8_t {
        safe,      ///< the puzzle means what it meant
        suggested, ///< it may mean something else: a person decides
    };
    Kind kind = Kind::safe;
    std::vector<collection::Edit> edits; ///< ascending, not overlapping, never empty
    struct Stretch {
        collection::Place begin, end;
    };
    std::vector<Stretch> places; ///< of the edits, for writers that tell lines; empty: not known
};
[[nodiscard]] std::string_view name(Fix::Kind kind);

struct Finding {
    std::string rule;       ///< "key/cook"
    std::string message_id; ///< key into the rule's messages
    Severity severity = Severity::warning;
    std::optional<solve::Certainty> certainty; ///< of findings that rest on a computation
    std::string message;
    std::string
        subject; ///< what is claimed, free of wording and places ("Rh8+"): tells findings of one rule apart
    std::string cure;       ///< what to do about it, may be empty
    std::optional<Fix> fix; ///< when it can be corrected without a person

    std::string puzzle; ///< id; empty for findings about a file
    std::string file;   ///< relative to the repository's root
    collection::Span span;
    collection::Place begin;
    collection::Place end; ///< one past the last character

    std::string excerpt; ///< of the source line `begin` stands on, at most 200 bytes, untrusted text
    std::size_t excerpt_column = 1; ///< where in its line it begins; 1 unless the line is long
    std::string fen;                ///< diagram the evidence starts from; empty when there is none to show
    std::vector<board::Square>
        squares;                   ///< of the diagram, what the finding speaks of; ascending, may be empty
    std::vector<std::string> line; ///< SAN, from `fen`
    std::string play;              ///< the same line numbered, for people
    std::size_t printed = 0; ///< so many moves of `line` only lead there: what is claimed begins behind them

    std::string fingerprint; ///< 16 hex digits over puzzle, rule, message id and subject
    Status status = Status::none;

    /// The play that shows it, from `position`; also sets the diagram. The first `printed_moves` only lead
    /// there.
    Finding& shown(const board::Position& position, std::span<const board::Move> moves,
                   std::size_t printed_moves = 0);
    Finding& known(solve::Certainty how);
    Finding& about(std::string what);
    Finding& mend(std::string what_to_do);
};

/// By file, place, rule, message, subject.
[[nodiscard]] bool before(const Finding& a, const Finding& b);
/// Sorts and drops exact duplicates.
void put_in_order(std::vector<Finding>& findings);

[[nodiscard]] std::string fingerprint_of(std::string_view puzzle_identity, const Finding& finding);

} // namespace rules
