#pragma once
// The motifs of a solution with their evidence, for `sidelint solve`.

#include "motif/motif.hpp"

#include <span>
#include <string>
#include <vector>

namespace app {

/// A section: what the line shows, strongest names first told apart by their strength. `found` are its
/// motifs.
[[nodiscard]] std::string motifs_text(const board::Position& position, std::span<const board::Move> line,
                                      const std::vector<motif::Evidence>& found);
/// What other variations of a mate in two show for certain and the line does not; empty when there is
/// nothing.
[[nodiscard]] std::string variation_motifs_text(const board::Position& position,
                                                const solve::Problem& problem,
                                                const std::vector<motif::Evidence>& found,
                                                solve::Solver& solver);

} // namespace app
