#pragma once
// How much of many findings is told, and what is said about the rest.

#include "report/head.hpp"

#include <map>
#include <set>
#include <string_view>
#include <utility>

namespace report {

/// Lets the first findings of each rule and status through and counts the others.
class Limit {
  public:
    explicit Limit(std::size_t most) : m_most(most) {} ///< 0: all
    /// Asked once for each finding, in order.
    [[nodiscard]] bool tells(const rules::Finding& finding);
    /// A table of what was left out; empty when nothing was. Its words are wrapped at `columns` (0: not).
    [[nodiscard]] Written<Plain> left_out(std::size_t columns) const;

  private:
    struct Tally {
        std::size_t told = 0, left = 0;
        std::set<std::string_view> files; ///< of those left out
    };
    std::size_t m_most;
    std::map<std::pair<std::string_view, rules::Status>, Tally> m_tallies;
};

} // namespace report
