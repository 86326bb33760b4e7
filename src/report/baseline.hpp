#pragma once
// The findings a collection has made its peace with: a file of JSON lines, an accepted finding a line.

#include "collection/error.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace report {

struct BaselineEntry {
    std::string fingerprint;
    std::string puzzle; ///< identity of the puzzle; of a finding about a file its path
    std::string rule;
    std::string claim;   ///< what is claimed: message id and subject
    std::string version; ///< of the program that found it, and how far it searched
    std::string effort;
    std::string reason;
    std::size_t line = 0; ///< where it was read, from 1
};

/// Two entries of one fingerprint accept two findings. What is no entry is an Error with its line.
[[nodiscard]] collection::Result<std::vector<BaselineEntry>> read_baseline(std::string_view bytes,
                                                                           std::string_view name);
/// Sorted by puzzle, rule and claim. No line depends on another, so that git merges them as a rule.
[[nodiscard]] std::string write_baseline(std::vector<BaselineEntry> entries);

/// What both sides accept after `base`: an entry that either dropped is dropped, one that either added is
/// added.
[[nodiscard]] std::vector<BaselineEntry> merge_baselines(const std::vector<BaselineEntry>& base,
                                                         const std::vector<BaselineEntry>& ours,
                                                         const std::vector<BaselineEntry>& theirs);

} // namespace report
