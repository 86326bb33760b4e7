#pragma once
// Corrections: made pass by pass on the texts, and held to what they promise before anything is written.

#include "app/judge.hpp"
#include "app/subject.hpp"

#include <functional>
#include <span>
#include <string>
#include <vector>

namespace app {

/// A file whose text would change.
struct Corrected {
    std::size_t document = 0;         ///< index of the file as it is
    collection::Document after;       ///< as it would be
    std::vector<rules::Finding> made; ///< what was corrected; places are those of the text it was found in
    std::string refused;              ///< why the file is left as it is; empty: the corrections hold
};

/// A puzzle whose corrections did not hold; the rest of its file goes on.
struct LeftPuzzle {
    std::string file;
    std::string id;
    std::string why;
};

struct Corrections {
    std::vector<Corrected> files;     ///< in order of path
    std::vector<rules::Finding> left; ///< fixable ones that are left, in order; of refused files as they are
    std::vector<LeftPuzzle> puzzles_left;
    Errors errors; ///< our own faults
};

using Chosen = std::function<bool(const rules::Finding&)>;

/// Makes the chosen corrections, at most ten passes over a file, and reads every result again: it must parse
/// as before, what was corrected must be gone, and no rule may find an error that was not there. `documents`
/// are all there are, so that rules about the whole can speak.
[[nodiscard]] Corrections correct(std::span<const collection::Document> documents, const Judge& judge,
                                  const Chosen& chosen);

} // namespace app
