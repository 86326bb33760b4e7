#pragma once
// What a run looks at: files of the worktree, or what differs between two states of the repository.

#include "app/options.hpp"
#include "app/outcome.hpp"
#include "app/run.hpp"
#include "app/shard.hpp"
#include "app/workspace.hpp"
#include "collection/document.hpp"
#include "rules/catalogue.hpp"
#include "rules/policy.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace app {

class Memory;

/// The other state, and what is the same in both.
struct Comparison {
    std::optional<std::string> commit;        ///< hex
    std::string name;                         ///< as people know it
    std::vector<collection::Document> before; ///< files that differ, as they were
    std::vector<collection::Document>
        the_same; ///< files that do not differ: only the rules about the whole read them
};

/// A file that an earlier run has judged: nobody has to read its puzzles.
struct KnownFile {
    std::string path;
    std::string bytes;
    FileOutcome outcome;
};

struct Subject {
    rules::Policy policy;
    std::vector<collection::Document> documents; ///< sorted by path; with a comparison only files that differ
    std::vector<KnownFile> known;                ///< sorted by path; without a comparison only
    std::optional<Comparison> comparison;
    std::optional<rules::Policy> former; ///< the earlier state's, when it was another one and does not count
    bool everything = false;             ///< no path narrowed what was looked at
    std::vector<std::string> remarks;    ///< what was left out and why
    std::vector<Error> errors;           ///< what could not be read; the rest goes on
    Shard shard;                         ///< whose puzzles are judged
};

using Errors = std::vector<Error>;
using LoadedSubject = board::Result<Subject, Errors>;

/// What loading may ask of earlier runs.
struct Recall {
    Memory* memory = nullptr;
    bool files = false; ///< what whole files came to, too: nobody asks for their puzzles
    rules::Summarise summarise = rules::Summarise::no;
    const solve::EndgameTables* endgames = nullptr; ///< that the run works with
};

/// The files asked for, from the worktree, or the text on standard input. Git is not asked.
[[nodiscard]] LoadedSubject load_files(const CheckOptions& options, const Environment& environment,
                                       const rules::Catalogue& catalogue, const Recall& recall,
                                       std::size_t jobs);
/// Two states, read by way of git.
[[nodiscard]] LoadedSubject load_states(const CheckOptions& options, const Environment& environment,
                                        const rules::Catalogue& catalogue, const Recall& recall,
                                        std::size_t jobs);

/// A file's text by its path relative to the root; nothing when there is none.
using TextAt = std::function<Result<std::optional<std::string>>(std::string_view path)>;

/// The configuration in force and where it stands.
struct Configuration {
    rules::Policy policy;
    std::string place; ///< empty: there is none
    std::string text;
};
/// --config, else the nearest of config_places(), else the defaults; the command line has the last word.
[[nodiscard]] board::Result<Configuration, Errors>
find_configuration(const CheckOptions& options, const Environment& environment, const Workspace& workspace,
                   const rules::Catalogue& catalogue, const TextAt& text_at);

/// The same for files of the worktree: their own, or with --config-from that of a revision, for which git is
/// asked.
[[nodiscard]] board::Result<Configuration, Errors> configuration_here(const CheckOptions& options,
                                                                      const Environment& environment,
                                                                      const Workspace& workspace,
                                                                      const rules::Catalogue& catalogue);

/// By its name alone: no other file is opened.
[[nodiscard]] bool may_hold_puzzles(std::string_view path, const rules::Policy& policy);

struct FileText {
    std::string path;
    Result<std::string> bytes; ///< or why they could not be had
};
/// Puzzle files only, in the given order. A file without bytes is a document that says so (file/unreadable),
/// and one of `errors`; the rest goes on.
[[nodiscard]] std::vector<collection::Document>
read_documents(std::vector<FileText> files, const rules::Policy& policy, std::size_t jobs, Errors& errors);

/// Status 2: nothing fits what was asked for.
[[nodiscard]] Error nothing_matched(const Workspace& workspace, const rules::Policy& policy);

} // namespace app
