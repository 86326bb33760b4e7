#pragma once
// The compiled-in files of rules/: as they are (made by embed.cmake) and, without their examples, as the
// build has read them (made by catalogue_packer.cpp).

#include "board/result.hpp"
#include "rules/catalogue.hpp"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace rules {

struct CatalogueText {
    std::string_view path; ///< "key/cook.yaml", "motif/fork.yaml"
    std::string_view text;
};

[[nodiscard]] std::span<const CatalogueText> catalogue_texts();

struct CatalogueEntries {
    std::vector<RuleEntry> rules;   ///< sorted by id
    std::vector<MotifEntry> motifs; ///< sorted by id
};

/// With their examples. An error names file and line.
[[nodiscard]] board::Result<CatalogueEntries, std::string> read_entries(std::span<const CatalogueText> files);

/// One text an entry, in order of ids, for Unpacker (catalogue_pack.hpp).
[[nodiscard]] std::span<const std::string_view> packed_rules();
[[nodiscard]] std::span<const std::string_view> packed_motifs();

} // namespace rules
