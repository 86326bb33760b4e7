#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

#include <cstdlib>

namespace motif {
namespace {

using board::Role;
using board::Square;

/// How many checks in a row from `ply`, each answered by a move of the king; a last check may end the line.
std::size_t checks_from(const Study& study, std::size_t ply) {
    std::size_t checks = 0;
    while (study.has(ply) && study.gives_check(ply)) {
        ++checks;
        if (!study.has(ply + 1) || study.mover(ply + 1) != Role::king) {
            break;
        }
        ply += 2;
    }
    return checks;
}

/// Four steps away from where he stood, or three ranks forward.
bool driven_far(Square from, Square to, board::Color king) {
    return board::distance(from, to) >= 4 ||
           board::relative_rank(king, to) - board::relative_rank(king, from) >= 3;
}

} // namespace

void detect_king_hunt(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const std::size_t checks = checks_from(study, ply);
        if (checks < 3) {
            continue;
        }
        const std::size_t end = std::min(study.plies(), ply + 2 * checks);
        const Square start = study.at(ply).king(study.them());
        const Square last = study.at(end).king(study.them());
        if (!driven_far(start, last, study.them())) {
            continue;
        }
        Evidence evidence;
        evidence.motif = "king-hunt";
        evidence.ply = ply;
        if (checks >= 4 && study.wins() && study.sound(ply, study.balance(ply))) {
            evidence.level = Level::functional;
        }
        evidence.certainty = solve::Certainty::searched;
        evidence.targets = {start, last};
        evidence.why = fmt::format("{} checks in a row drive the king from {} to {}", checks,
                                   board::name(start), board::name(last));
        found.push_back(std::move(evidence));
        ply = end - end % 2; // the same hunt is not told twice
    }
}

} // namespace motif
