#pragma once
// Findings and summaries as JSON values that only sidelint reads back: in its memory, and in the parts of a
// report. What unpacks throws std::exception on anything that was not packed here.

#include "rules/check.hpp"

#include <nlohmann/json.hpp>

#include <cstddef>
#include <limits>

namespace app {

/// Spans are kept relative to `begin` and must lie within.
struct Frame {
    std::size_t begin = 0;
    std::size_t end = std::numeric_limits<std::size_t>::max();
};

/// The finding and its fix lie within.
[[nodiscard]] bool fits(const rules::Finding& finding, const Frame& frame);
/// Without file, line, excerpt and status.
[[nodiscard]] nlohmann::json pack(const rules::Finding& finding, const Frame& frame);
[[nodiscard]] rules::Finding unpack_finding(const nlohmann::json& value, const Frame& frame);
/// Without id and place.
[[nodiscard]] nlohmann::json pack(const rules::PuzzleSummary& summary);
[[nodiscard]] rules::PuzzleSummary unpack_summary(const nlohmann::json& value);

/// With all that pack() leaves out.
[[nodiscard]] nlohmann::json pack_whole(const rules::Finding& finding);
[[nodiscard]] rules::Finding unpack_whole(const nlohmann::json& value);
[[nodiscard]] nlohmann::json pack_whole(const rules::PuzzleSummary& summary);
[[nodiscard]] rules::PuzzleSummary unpack_whole_summary(const nlohmann::json& value);

} // namespace app
