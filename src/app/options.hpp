#pragma once
// What was asked for on the command line, checked and typed.

#include "app/shard.hpp"
#include "app/status.hpp"
#include "collection/goal.hpp"
#include "history/repository.hpp"
#include "report/report.hpp"
#include "rules/finding.hpp"
#include "solve/verdict.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace app {

enum class ReportKind : std::uint8_t {
    text,
    brief,
    json,
    json_lines,
    sarif,
    junit,
    code_quality,
    annotations,
    markdown,
    html,
    part ///< for sidelint merge
};

struct Output {
    ReportKind kind = ReportKind::text;
    std::string file; ///< empty: standard output
};

enum class ColourChoice : std::uint8_t { automatic, always, never };

struct CheckOptions {
    std::vector<std::string> paths;
    bool staged = false;
    std::optional<std::string> commit;  ///< revision to check
    std::optional<std::string> against; ///< revision to compare with, or "auto"
    std::optional<history::State> base; ///< the same where it has been found already
    std::vector<Output> outputs;        ///< at least one; to standard output one, annotations aside
    report::Detail detail = report::Detail::findings;
    std::optional<rules::Severity> gate = rules::Severity::error; ///< nothing: never fails
    std::optional<solve::Effort> effort;
    std::size_t jobs = 0; ///< 0: as many as the machine has processors for us
    std::vector<std::pair<std::string, rules::Severity>> levels; ///< rule id or family, in order
    std::optional<std::string> config;
    ColourChoice colour = ColourChoice::automatic;
    std::optional<std::string> cache; ///< folder instead of the user's
    bool no_cache = false;            ///< nothing of earlier runs is read, nothing kept
    report::Men men = report::Men::letters;
    std::size_t limit = 100; ///< findings of a rule that a text report tells; 0: all
    report::SarifOptions sarif;
    bool overview = false;
    Shard shard;
    bool allow_empty = false;
    bool or_all = false;       ///< a base that cannot be found is no error: everything counts as new
    bool excluded_too = false; ///< also files that the configuration excludes
    bool allowed_too = false;  ///< also findings that an allowance silences
    std::optional<std::size_t> most_warnings; ///< more of them than that end in status 1
    std::string input_name;                   ///< what to call the text when the only path is "-"
    std::optional<std::string> input;         ///< that text, once it has been read
    bool trust_repository = false;
    bool quiet = false;
    std::optional<std::string> baseline;    ///< file of accepted findings
    bool strict_baseline = false;           ///< an entry that nothing answers to any more is an error
    std::optional<std::string> config_from; ///< revision whose configuration counts
    std::optional<std::string> why;         ///< puzzle to tell all about, instead of a report
    bool show_config = false;               ///< tell the settings in force, instead of a report

    [[nodiscard]] bool wants_history() const { return staged || commit || against; }
    /// A text on standard input instead of files.
    [[nodiscard]] bool wants_input() const { return paths.size() == 1 && paths.front() == "-"; }
    /// Where the nearest configuration is looked for.
    [[nodiscard]] std::vector<std::string> places() const {
        return wants_input() ? std::vector{input_name} : paths;
    }
};

struct FixOptions {
    CheckOptions where;             ///< paths, staged, configuration; nothing is reported by it
    std::vector<std::string> apply; ///< fingerprints: only these, suggested ones too
    bool preview = false;           ///< print the change, write nothing
    bool fail_if_changed = false;   ///< status 1 when something was corrected
};

struct DiffOptions {
    enum class Kind : std::uint8_t { text, json, markdown, html, annotations };
    struct Output {
        Kind kind = Kind::text;
        std::string file; ///< empty: standard output
    };
    CheckOptions where; ///< against, commit and staged name the states
    std::vector<Output> outputs;
};

struct BaselineOptions {
    enum class Task : std::uint8_t {
        accept, ///< everything found now is accepted
        prune,  ///< entries that nothing answers to are dropped
        merge,  ///< a merge driver: what both sides accept
    } task = Task::accept;
    CheckOptions where;
    std::string file;
    std::string reason;
    std::vector<std::string> sides; ///< merge: the common ancestor, ours (written to), theirs
};

struct SolveOptions {
    std::string fen;
    std::optional<collection::Goal> goal;
    std::optional<std::string> key;      ///< SAN or coordinates
    std::optional<std::string> solution; ///< movetext; its first move is the key
    solve::Effort effort = solve::Effort::review;
    std::optional<std::string>
        certificate; ///< file for the proof; "-": standard output, and nothing else there
};

struct DrawOptions {
    std::string fen;
    std::optional<board::Color> below; ///< nothing: whoever is to move
    std::vector<board::Square> marked;
    std::vector<std::string> arrows; ///< moves or pairs of squares
};

struct MergeOptions {
    std::vector<std::string> parts; ///< files
    CheckOptions how;               ///< reports and gate
};

struct VerifyOptions {
    std::vector<std::string> files;
};

struct ExplainOptions {
    std::string subject; ///< rule or motif; empty: list them
    bool all = false;
    enum class Format : std::uint8_t { text, markdown, json } format = Format::text;
};

struct HookOptions {
    enum class Task : std::uint8_t { list, add, remove, run } task = Task::list;
    std::vector<std::string> hooks; ///< git's names; one for run
    std::string remote;             ///< what git tells a pre-push hook
};
/// Those that are known.
inline constexpr std::array<std::string_view, 3> hook_names{"pre-commit", "pre-push", "pre-receive"};

struct InitOptions {};

struct ManualOptions {};

struct SchemaOptions {
    enum class Of : std::uint8_t { config, report, changes } of = Of::config;
};

/// Help or version, to be printed as it is.
struct Printed {
    std::string text;
};

using Command = std::variant<Printed, CheckOptions, FixOptions, DiffOptions, BaselineOptions, MergeOptions,
                             SolveOptions, DrawOptions, VerifyOptions, ExplainOptions, HookOptions,
                             InitOptions, SchemaOptions, ManualOptions>;

/// Never throws; wrong use is an Error.
[[nodiscard]] Result<Command> read_command_line(std::span<const std::string> arguments);

} // namespace app
