// One row a rule: its id and its function, which stands in src/rules/<family>/<name>.cpp. A test holds the table against
// the files here and in rules/.

#include "rules/rule.hpp"

#include <array>

namespace rules {

namespace key {
void cook(const PuzzleView& view, Findings& findings);
} // namespace key

std::span<const Rule> registry() {
    static constexpr std::array table{
        Rule{"key/cook", &key::cook},
    };
    return table;
}

} // namespace rules
