#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Square;

/// A solver's move `later`, one or two of his moves after `ply`, that needed the man moved at `ply` out of
/// the way.
struct Arrival {
    std::size_t later;
    bool line; ///< it runs over the vacated square; else it ends there
};

std::optional<Arrival> arrival_after(const Study& study, std::size_t ply) {
    const Square vacated = study.move(ply).from();
    for (std::size_t later = ply + 2; later <= ply + 4 && study.has(later); later += 2) {
        const board::Move move = study.move(later);
        const bool same_man = study.follow(study.move(ply).to(), ply + 1, later) == move.from();
        if (same_man || study.castles(later)) {
            continue;
        }
        if (move.to() == vacated) {
            return Arrival{later, false};
        }
        if (board::between(move.from(), move.to()).contains(vacated)) {
            return Arrival{later, true};
        }
    }
    return std::nullopt;
}

/// Hit as soon as the line opens: that is a discovered attack, not a clearance.
bool hits_at_once(const Study& study, const Arrival& arrival) {
    return arrival.line && study.captured(arrival.later).has_value();
}

/// The arrival is the only move that does it; the man leaves as an offer or an exchange, with check or
/// quietly.
Level level_of(const Study& study, std::size_t ply, const Arrival& arrival) {
    const bool offer = study.captured(ply + 1) &&
                       study.captured_worth(ply + 1) >= study.captured_worth(ply) &&
                       study.move(ply + 1).to() == study.move(ply).to();
    const bool plain = !study.captured(ply) && study.mover(ply) != board::Role::king;
    if (hits_at_once(study, arrival) || (!offer && !plain) || !study.wins() ||
        !study.sound(ply, study.balance(ply))) {
        return Level::seen;
    }
    const bool quiet = !offer && !study.gives_check(ply);
    if (quiet && !study.only_move(ply)) {
        return Level::seen;
    }
    const bool needed = study.only_move(arrival.later) || study.only_winner(arrival.later);
    return needed ? Level::functional : Level::seen;
}

} // namespace

void detect_clearance(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply + 2); ply += 2) {
        const auto arrival = arrival_after(study, ply);
        if (!arrival || study.castles(ply)) {
            continue;
        }
        const Square vacated = study.move(ply).from();
        Evidence evidence;
        evidence.motif = arrival->line ? "line-clearance" : "square-clearance";
        evidence.ply = ply;
        evidence.level = level_of(study, ply, *arrival);
        evidence.certainty = solve::Certainty::searched;
        evidence.targets = {vacated, study.move(arrival->later).to()};
        evidence.why =
            fmt::format("the {} leaves {} for the {}", man(study.at(ply), vacated), board::name(vacated),
                        man(study.at(arrival->later), study.move(arrival->later).from()));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
