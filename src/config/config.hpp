#pragma once
// `.sidelint.yaml`: read, described, and held against the one before.

#include "collection/error.hpp"
#include "rules/catalogue.hpp"
#include "rules/policy.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace config {

using collection::Error;

inline constexpr std::string_view file_name = ".sidelint.yaml";

/// `name` is for messages; the patterns in it are relative to `folder`, itself relative to the root. All
/// errors at once.
[[nodiscard]] board::Result<rules::Policy, std::vector<Error>> read(std::string_view bytes,
                                                                    std::string_view name,
                                                                    std::string_view folder,
                                                                    const rules::Catalogue& catalogue);

/// A JSON schema for editors.
[[nodiscard]] std::string schema(const rules::Catalogue& catalogue);
/// Every key with its meaning, all commented out: what `init` writes.
[[nodiscard]] std::string starting_file();

/// What `after` lets pass that `before` did not, a line each: "key/cook: error -> off", with the pattern
/// when an override says so: "key/cook: error -> off in drafts/**".
[[nodiscard]] std::vector<std::string> loosened(const rules::Policy& before, const rules::Policy& after,
                                                const rules::Catalogue& catalogue);

} // namespace config
