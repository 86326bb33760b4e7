#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Role;

/// From ply `from` until at(to) the solver moved only his king.
bool king_walk(const Study& study, std::size_t from, std::size_t to) {
    for (std::size_t ply = from; ply < to; ply += 2) {
        if (study.mover(ply) != Role::king) {
            return false;
        }
    }
    return true;
}

/// The later position with the same men on the same squares and the defender to move, reached by a walk of
/// the solver's king.
std::optional<std::size_t> return_by_walk(const Study& study, std::size_t from) {
    for (std::size_t to = from + 3; to <= study.plies(); to += 2) {
        if (same_placement(study.at(from), study.at(to)) && king_walk(study, from, to)) {
            return to;
        }
    }
    return std::nullopt;
}

} // namespace

void detect_triangulation(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply + 2); ply += 2) {
        const auto back = return_by_walk(study, ply);
        if (!back) {
            continue;
        }
        Evidence evidence;
        evidence.motif = "triangulation";
        evidence.ply = ply;
        evidence.level = study.wins() ? Level::functional : Level::seen;
        evidence.certainty = solve::Certainty::searched;
        evidence.targets = {study.at(ply).king(study.us())};
        evidence.why = fmt::format("the king comes back to {} in {} moves, and now the defender is to move",
                                   board::name(evidence.targets[0]), (*back - ply + 1) / 2);
        found.push_back(std::move(evidence));
        return;
    }
}

} // namespace motif
