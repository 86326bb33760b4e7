#pragma once
// What the JSON formats share. The library escapes every text; dumped() sees to the rest.

#include "report/report.hpp"

#include <nlohmann/json.hpp>

#include <string>

namespace report {

using Json = nlohmann::ordered_json;

/// ASCII, without the marks that CI runners obey; what is no UTF-8 becomes U+FFFD. `indent` -1: one line.
[[nodiscard]] std::string dumped(const Json& json, int indent);

[[nodiscard]] Json text_or_null(std::string_view text);

[[nodiscard]] Json tool_json(const Report& report);
[[nodiscard]] Json run_json(const Report& report);
[[nodiscard]] Json summary_json(const Report& report);
[[nodiscard]] Json puzzle_json(const rules::PuzzleSummary& puzzle);
[[nodiscard]] Json overview_json(const Report& report);
/// The finding of that index, with its proof when the report carries proofs.
[[nodiscard]] Json finding_json(const Report& report, std::size_t index);

/// A path as a relative URI reference (RFC 3986): all but unreserved characters and '/' by their bytes.
[[nodiscard]] std::string uri_of(std::string_view path);

} // namespace report
