#pragma once
// What a rule is made of: a function, and a sink for what it finds.

#include "rules/catalogue.hpp"
#include "rules/finding.hpp"
#include "rules/view.hpp"

#include <functional>
#include <initializer_list>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace rules {

using Arguments = std::initializer_list<std::pair<std::string_view, std::string>>;

/// Where a rule puts its findings. Severity, place and rule id are filled in here, so that a rule says only
/// what it knows.
class Findings {
  public:
    Findings(const RuleEntry& rule, Severity severity, bool severity_configured, std::vector<Finding>& into);

    /// About a puzzle. `message_id` must be one of the catalogue's; its text is filled from `arguments`.
    Finding& add(const collection::Document& document, const collection::Puzzle& puzzle,
                 collection::Span span, std::string_view message_id, Arguments arguments = {});
    /// About a file.
    Finding& add(const collection::Document& document, collection::Span span, std::string_view message_id,
                 Arguments arguments = {});
    /// Short form for rules about one puzzle.
    Finding& add(const PuzzleView& view, collection::Span span, std::string_view message_id,
                 Arguments arguments = {});

  private:
    const RuleEntry& m_rule;
    Severity m_severity;
    bool m_severity_configured;
    std::vector<Finding>& m_into;
};

/// A document with what applies to it.
struct DocumentView {
    const collection::Document& document;
    const Settings& settings;
    const Catalogue& catalogue;
};

/// Everything read in this run, in order of path.
struct CollectionView {
    std::span<const collection::Document* const> documents;
    const Policy& policy;
    const Catalogue& catalogue;
};

/// The rungs; a rule takes the lowest that does.
using PuzzleRule = void (*)(const PuzzleView&, Findings&);
/// Runs behind all puzzle rules and sees what they found.
using AfterRule = void (*)(const PuzzleView&, std::span<const Finding> found, Findings&);
using DocumentRule = void (*)(const DocumentView&, Findings&);
using CollectionRule = void (*)(const CollectionView&, Findings&);

struct Rule {
    std::string_view id;
    std::variant<PuzzleRule, AfterRule, DocumentRule, CollectionRule> check;
};

/// Explicit table, sorted by id; a test holds it against src/rules and rules/.
[[nodiscard]] std::span<const Rule> registry();
[[nodiscard]] const Rule* find_rule(std::string_view id);

} // namespace rules
