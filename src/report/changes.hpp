#pragma once
// What a change did to a collection, puzzle by puzzle, ready for any writer.

#include "history/describe.hpp"
#include "report/report.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace report {

struct PuzzleChange {
    history::Change change = history::Change::changed;
    std::string id;          ///< of the later state; of a removed puzzle the earlier
    std::string id_before;   ///< when it was another one
    std::string file;        ///< as `id`
    std::string file_before; ///< when it was another one
    std::size_t line = 1;    ///< in `file`
    std::string summary;     ///< of an added or removed puzzle
    std::optional<board::Setup>
        diagram_before; ///< as far as the state has the puzzle and its FEN can be read
    std::optional<board::Setup> diagram;
    std::vector<history::FieldChange> fields; ///< of a changed one
    std::vector<rules::Finding> fresh;
    std::vector<rules::Finding> gone;
    std::size_t still = 0; ///< findings that were there before
};

struct Changes {
    std::string version;
    std::string effort;
    std::string before; ///< states as people know them
    std::string after;
    std::vector<PuzzleChange> puzzles; ///< in the later state's order, removed ones behind
    std::vector<rules::Finding>
        elsewhere;             ///< new and gone: about files, and about puzzles that did not change
    std::size_t unchanged = 0; ///< puzzles of files that differ
    std::vector<std::string> remarks;
};

[[nodiscard]] std::string changes_text(const Changes& changes, const Look& look = {});
/// ASCII only, like json().
[[nodiscard]] std::string changes_json(const Changes& changes);
/// The JSON schema (draft 2020-12) of what changes_json() writes.
[[nodiscard]] std::string changes_schema();
/// For a job's summary or a comment: stops, and says so, before the 1 MiB that hosts allow. Text of the
/// collection is text there: no link, mention or markup.
[[nodiscard]] std::string changes_markdown(const Changes& changes);

/// A page with the boards of both states side by side; at most so many pairs.
[[nodiscard]] std::string changes_html(const Changes& changes, std::size_t most_boards = 1000);

/// "2 changed, 1 added; findings: 1 new, 3 gone, 2 still there"
[[nodiscard]] std::string changes_counted(const Changes& changes);

} // namespace report
