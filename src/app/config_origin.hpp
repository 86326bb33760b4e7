#pragma once
// Where each setting in force comes from: the defaults, a line of the configuration, or the command line.

#include "app/subject.hpp"
#include "config/yaml_tree.hpp"

#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace app {

/// Answers in words: "default", ".sidelint.yaml:4", ".sidelint.yaml:9, for drafts/**", "command line". A path
/// is relative to the root; an empty one asks for the settings without overrides.
class Origins {
  public:
    Origins(const Configuration& configuration, const CheckOptions& options);

    /// "effort", "win-at", "exclude", ...
    [[nodiscard]] std::string of_key(std::string_view key, std::string_view path) const;
    [[nodiscard]] std::string of_level(const std::string& rule, std::string_view path) const;
    [[nodiscard]] std::string of_option(const std::string& rule, const std::string& option,
                                        std::string_view path) const;
    /// Of the override of that index in the policy.
    [[nodiscard]] std::string of_override(std::size_t index) const;

  private:
    /// The node that says it within one map of settings; nullptr: it does not.
    using Look = std::function<const config::YamlNode*(const config::YamlNode& settings)>;
    [[nodiscard]] std::optional<std::string> said(std::string_view path, const Look& look) const;
    [[nodiscard]] std::string line_of(const config::YamlNode& node) const;

    const Configuration& m_configuration;
    const CheckOptions& m_options;
    config::YamlNode m_tree;
};

} // namespace app
