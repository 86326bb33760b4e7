#pragma once
// One entry of our collection files: id fen to-move goal solution accept themes allow, and fields of any
// other name.

#include "collection/document.hpp"
#include "collection/yaml_node.hpp"

namespace collection {

/// `node` is a mapping; of the collection's `defaults`, if any, only the variant is read here.
[[nodiscard]] Puzzle yaml_puzzle(const YamlNode& node, const YamlNode* defaults);
/// Gives the puzzles from `first` on what they do not say themselves.
void apply_defaults(Document& document, std::size_t first, const YamlNode& defaults);

} // namespace collection
