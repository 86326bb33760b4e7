#pragma once
// The catalogue: what rules/**.yaml says about every rule and motif, compiled in as text.

#include "board/result.hpp"
#include "rules/finding.hpp"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rules {

struct OptionSpec {
    std::string name;
    std::string fallback; ///< default value as text
    std::string meaning;
};

struct Message {
    std::string id;
    std::string text;                 ///< "{move} also wins": names in braces are filled by the rule
    std::optional<Severity> severity; ///< when it differs from the rule's
};

/// A small complete collection and what must be said about it.
struct Example {
    std::string title;
    std::string file; ///< name that decides the format; "example.yaml" by default
    std::string text;
    std::string config;     ///< `.sidelint.yaml` text, may be empty
    std::string unreadable; ///< instead of a text: why the file could not be opened
    struct Wanted {
        std::string rule; ///< empty: the entry's own
        std::string message_id;
        std::size_t line = 0; ///< 0: not held
        std::string subject;  ///< empty: not held
        std::string play;     ///< empty: not held; else the shown line starts with this
    };
    std::vector<Wanted> wanted; ///< empty for a good example
};

struct RuleEntry {
    std::string id;
    std::string summary;
    std::string why;
    Severity severity = Severity::warning;
    std::string certainty; ///< what it can claim, in words
    std::string since;
    std::string status; ///< preview, stable, deprecated, removed
    std::vector<OptionSpec> options;
    std::vector<Message> messages;
    std::string fix; ///< none, safe, suggested
    std::vector<std::string> see;
    std::vector<Example> bad; ///< only when read with examples
    std::vector<Example> good;

    [[nodiscard]] const Message* message(std::string_view message_id) const;
};

struct MotifEntry {
    std::string id;    ///< "motif/knight-fork"
    std::string motif; ///< "knight-fork"
    std::string name;  ///< "knight fork"
    std::string summary;
    std::string why;
    std::vector<std::string> aliases;
    bool checked = true; ///< false: accepted as it stands, no detector answers to it
    /// Where books differ: the definition this program goes by, and the others.
    struct Disputed {
        std::string chosen, narrower;
        std::string wider; ///< not empty: `themes: {wide: [...]}` takes it
    };
    Disputed disputed; ///< empty: books agree
    struct Shown {
        std::string title, fen, line;
    };
    std::vector<Shown> yes; ///< only when read with examples
    std::vector<Shown> no;
    std::vector<Shown> wide; ///< counts in the wider reading only
};

enum class WithExamples : std::uint8_t { no, yes };

class Catalogue {
  public:
    /// Reads the compiled-in text. An error names file and line: a fault of ours, found by the tests.
    [[nodiscard]] static board::Result<Catalogue, std::string> read(WithExamples examples);

    [[nodiscard]] const std::vector<RuleEntry>& rules() const { return m_rules; }
    [[nodiscard]] const std::vector<MotifEntry>& motifs() const { return m_motifs; }
    [[nodiscard]] const RuleEntry* rule(std::string_view id) const;
    [[nodiscard]] const MotifEntry* motif(std::string_view machine_name) const;
    /// A theme as people write it ("Back rank mate", "luring away") to the machine name of a motif.
    [[nodiscard]] std::optional<std::string> motif_of(std::string_view theme) const;
    /// The rule ids and motif names nearest to a misspelt one, best first, at most three.
    [[nodiscard]] std::vector<std::string> near(std::string_view text) const;

  private:
    std::vector<RuleEntry> m_rules;                            ///< sorted by id
    std::vector<MotifEntry> m_motifs;                          ///< sorted by id
    std::map<std::string, std::string, std::less<>> m_aliases; ///< folded spelling to machine name
};

/// Lower case, every run of other characters than letters and digits one blank: "Back-Rank  mate" and "back
/// rank mate" meet.
[[nodiscard]] std::string folded(std::string_view theme);
/// Bytes to be added, dropped or changed to make one of the other.
[[nodiscard]] std::size_t edit_distance(std::string_view a, std::string_view b);
/// The candidates with the smallest edit distance to `text` within a third of its length, best first, at most
/// three.
[[nodiscard]] std::vector<std::string> nearest(std::string_view text,
                                               const std::vector<std::string>& candidates);

} // namespace rules
