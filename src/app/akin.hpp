#pragma once
// Files that did not change, but hold a puzzle like one that did: the rules about the whole ask for those
// alone.

#include "app/status.hpp"
#include "history/repository.hpp"
#include "rules/marks.hpp"
#include "rules/policy.hpp"

#include <functional>
#include <string_view>
#include <vector>

namespace app {

class Memory;

/// Where to look, and for what.
struct AkinTo {
    const history::State& state;                             ///< a commit
    std::vector<rules::Mark> marks;                          ///< ascending
    std::function<bool(std::string_view path)> is_looked_at; ///< not one of those that changed
};

/// In order of path. Every folder's marks are kept in the memory (none: all files are read), and worked out
/// anew only where its id is another one. A file that cannot be read is one of `errors`.
[[nodiscard]] Result<std::vector<history::FileState>>
akin_files(const history::Repository& repository, const AkinTo& wanted, const rules::Policy& policy,
           Memory* memory, std::size_t jobs, std::vector<Error>& errors);

} // namespace app
