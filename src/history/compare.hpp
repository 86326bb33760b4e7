#pragma once
// Pairs the puzzles of two states and tells findings that are new from those that were there before.

#include "collection/document.hpp"
#include "rules/finding.hpp"

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace history {

struct PuzzleRef {
    const collection::Document* document = nullptr;
    const collection::Puzzle* puzzle = nullptr;
    explicit operator bool() const { return puzzle != nullptr; }
};

enum class Change : std::uint8_t {
    added,
    removed,
    same,    ///< every field that means something is equal, place and layout aside
    moved,   ///< the same in another file, or elsewhere in its file
    changed, ///< some fields differ
};
[[nodiscard]] std::string_view name(Change change);

struct Pair {
    PuzzleRef before; ///< empty: added
    PuzzleRef after;  ///< empty: removed
    Change change = Change::same;
    std::vector<std::string> fields; ///< changed: "position", "solution", "goal", "themes", "id", ...
};

/// By stated id where the diagram agrees, then by diagram, then by stated id alone (so that a renumbered
/// collection is no new one), then by likeness within the same file, then across files. Sorted: by the later
/// state's order, removed ones behind. A copy of a puzzle is `added`. Documents: only those that differ need
/// be given.
[[nodiscard]] std::vector<Pair> pair_puzzles(std::span<const collection::Document> before,
                                             std::span<const collection::Document> after);

/// Settles the status of each finding: `fresh` or `still` for those after, and returns with them the `gone`
/// ones. Findings of one puzzle are matched by rule, message id and subject, across renamed ids and moved
/// files; findings about a file by file, rule, message id and subject, across a renamed file. What set/* says
/// about two puzzles is new when either is, and `still` in another order or under another id. Sorted with
/// rules::before, gone ones included.
[[nodiscard]] std::vector<rules::Finding>
compare(std::vector<rules::Finding> before, std::vector<rules::Finding> after, std::span<const Pair> pairs);

} // namespace history
