#pragma once
// Runs all rules on documents, puzzle by puzzle, on several threads.

#include "app/progress.hpp"
#include "app/shard.hpp"
#include "app/status.hpp"
#include "rules/check.hpp"

#include <functional>
#include <span>
#include <vector>

namespace app {

class Memory;

struct Judged {
    std::vector<rules::Finding> findings;        ///< not yet in order
    std::vector<rules::PuzzleSummary> summaries; ///< in order of documents and puzzles
    std::size_t puzzles = 0;                     ///< checked
    std::size_t allowed = 0;
    std::vector<Error> errors; ///< our own faults
};

struct Judge {
    const rules::Catalogue& catalogue;
    const rules::Policy& policy;
    rules::Summarise summarise = rules::Summarise::no;
    std::size_t jobs = 1;
    Progress& progress;
    Shard shard; ///< whose puzzles are judged; what is about a file or the whole, by the first alone
    Memory* memory = nullptr; ///< of earlier runs; none: everything is worked out anew
    bool allowed_too = false; ///< what an allowance silences is told
    bool keep_files = false;  ///< what whole files come to is kept, too: all of their puzzles are wanted

    using Wanted = std::function<bool(const collection::Document&, const collection::Puzzle&)>;

    /// Puzzle rules on the wanted puzzles, document rules on every document.
    [[nodiscard]] Judged documents(std::span<const collection::Document> documents,
                                   const Wanted& wanted) const;
    /// Collection rules.
    [[nodiscard]] Judged whole(std::span<const collection::Document* const> documents) const;
};

/// Puts `more` behind what `into` holds.
void append(Judged& into, Judged more);

} // namespace app
