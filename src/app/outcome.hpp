#pragma once
// What a whole file came to: all that a later run needs of it as long as its bytes stay the same.

#include "rules/check.hpp"
#include "rules/marks.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace app {

struct FileOutcome {
    std::size_t puzzles = 0;
    std::vector<rules::Mark> marks; ///< for the rules about the whole, whose findings are not in here
    std::vector<rules::Finding> findings;
    std::vector<rules::Finding> allowed;         ///< silenced by an allowance
    std::vector<rules::PuzzleSummary> summaries; ///< when they were asked for
};

[[nodiscard]] std::string pack_outcome(const FileOutcome& outcome);
/// Nothing when the bytes are not what pack_outcome() writes, whoever wrote them.
[[nodiscard]] std::optional<FileOutcome> unpack_outcome(std::string_view bytes);

} // namespace app
