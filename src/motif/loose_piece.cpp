#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Square;

/// Taken by the key, and kept: later in a line an unguarded man is a part of forks and other motifs.
Level level_of(const Study& study, std::size_t ply) {
    const bool point = study.mates() ? study.captured_worth(ply) >= 5 // a minor man on the way to mate is not
                                     : study.kept(ply + 1) - study.balance(ply) >= 1;
    const bool counts = ply == 0 && point && study.sound(ply, study.balance(ply));
    return counts ? Level::functional : Level::seen;
}

} // namespace

void detect_loose_piece(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const board::Position& position = study.at(ply);
        if (study.captured_worth(ply) < 3) {
            continue;
        }
        const Square square = square_taken(study.move(ply));
        if (position.attackers(square, study.them()).any()) {
            continue;
        }
        Evidence evidence;
        evidence.motif = "loose-piece";
        evidence.ply = ply;
        evidence.level = level_of(study, ply);
        evidence.certainty = solve::Certainty::searched;
        evidence.targets = {square};
        evidence.why = fmt::format("nothing guards the {}", man(position, square));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
