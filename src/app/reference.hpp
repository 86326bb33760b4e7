#pragma once
// The catalogue as a reference: a page in Markdown for people, JSON for whoever builds pages of his own.

#include "rules/catalogue.hpp"

#include <string>
#include <vector>

namespace app {

/// What a motif is a kind of, and its own kinds.
struct Family {
    std::vector<const rules::MotifEntry*> above; ///< whose themes it bears out
    std::vector<const rules::MotifEntry*> below; ///< that bear out its theme
};
[[nodiscard]] Family family_of(const rules::MotifEntry& motif, const rules::Catalogue& catalogue);

/// Everything about every rule and motif. The catalogue, and entries of it, must have been read with
/// examples.
[[nodiscard]] std::string reference_markdown(const rules::Catalogue& catalogue);
[[nodiscard]] std::string reference_json(const rules::Catalogue& catalogue);

/// The same of one.
[[nodiscard]] std::string reference_markdown(const rules::RuleEntry& rule);
[[nodiscard]] std::string reference_markdown(const rules::MotifEntry& motif,
                                             const rules::Catalogue& catalogue);
[[nodiscard]] std::string reference_json(const rules::RuleEntry& rule);
[[nodiscard]] std::string reference_json(const rules::MotifEntry& motif);

} // namespace app
