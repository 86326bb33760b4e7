#pragma once
// The compiled-in files of rules/, made by embed.cmake.

#include <span>
#include <string_view>

namespace rules {

struct CatalogueText {
    std::string_view path; ///< "key/cook.yaml", "motif/fork.yaml"
    std::string_view head; ///< all before the examples: what a run needs
    std::string_view text; ///< the whole file
};

[[nodiscard]] std::span<const CatalogueText> catalogue_texts();

} // namespace rules
