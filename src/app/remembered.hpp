#pragma once
// What earlier runs left: under which key, and a puzzle's findings as which bytes.

#include "collection/document.hpp"
#include "rules/check.hpp"
#include "rules/policy.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace app {

/// Everything about a file, besides a puzzle's own bytes, that decides what is found in the puzzle: program,
/// settings, mappings, and the bytes that stand outside of all puzzles (defaults, a table's header).
[[nodiscard]] std::string context_of(const collection::Document& document, const rules::Policy& policy,
                                     const rules::Settings& settings, rules::Summarise summarise);

/// The hash of a puzzle in its context, 20 bytes.
[[nodiscard]] std::string key_of(const collection::Document& document, const collection::Puzzle& puzzle,
                                 std::string_view context);

/// The hash of a whole file, and of all that decides what is found in its puzzles one by one.
[[nodiscard]] std::string key_of_file(std::string_view path, std::string_view bytes,
                                      const rules::Policy& policy, const rules::Settings& settings,
                                      rules::Summarise summarise);

/// All that decides which marks a folder's files have, besides their bytes.
[[nodiscard]] std::string context_of_marks(const rules::Policy& policy);
[[nodiscard]] std::string key_of_folder(std::string_view context, std::string_view path);

/// Places are kept relative to the puzzle. Nothing when it cannot be kept: a finding outside the puzzle, or a
/// fault of ours.
[[nodiscard]] std::optional<std::string> packed(const rules::Checked& checked,
                                                const collection::Puzzle& puzzle);
/// Nothing when the bytes are not what packed() writes, whoever wrote them.
[[nodiscard]] std::optional<rules::Checked>
unpacked(std::string_view bytes, const collection::Document& document, const collection::Puzzle& puzzle);

} // namespace app
