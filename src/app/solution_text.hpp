#pragma once
// A solution typed on the command line: read like a file's, told move by move.

#include "collection/document.hpp"
#include "rules/catalogue.hpp"
#include "rules/policy.hpp"

#include <optional>
#include <string>

namespace app {

/// One puzzle made of a FEN, PGN movetext and perhaps a goal. What cannot be read is a fault of the puzzle.
[[nodiscard]] collection::Document typed_puzzle(const std::string& fen, const std::string& movetext,
                                                const std::optional<collection::Goal>& goal);

/// A section of `sidelint solve`: the author's tree, each of the solver's moves with its verdict, variations
/// set in below the move they replace; then what the rules find in it.
[[nodiscard]] std::string solution_text(const collection::Document& document,
                                        const rules::Catalogue& catalogue, const rules::Settings& settings);

} // namespace app
