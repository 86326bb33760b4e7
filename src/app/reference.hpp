#pragma once
// The catalogue as a reference: a page in Markdown for people, JSON for whoever builds pages of his own.

#include "rules/catalogue.hpp"

#include <string>

namespace app {

/// Everything about every rule and motif. The catalogue, and entries of it, must have been read with
/// examples.
[[nodiscard]] std::string reference_markdown(const rules::Catalogue& catalogue);
[[nodiscard]] std::string reference_json(const rules::Catalogue& catalogue);

/// The same of one.
[[nodiscard]] std::string reference_markdown(const rules::RuleEntry& rule);
[[nodiscard]] std::string reference_markdown(const rules::MotifEntry& motif);
[[nodiscard]] std::string reference_json(const rules::RuleEntry& rule);
[[nodiscard]] std::string reference_json(const rules::MotifEntry& motif);

} // namespace app
