#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Square;

/// The guard was attacked by a move that is no check, stood to be lost, and left what it guarded to the
/// solver's next move.
bool driven_off(const Study& study, std::size_t ply, Square guard, Square duty) {
    const board::Move reply = study.move(ply + 1);
    return reply.from() == guard && reply.to() != duty && study.move(ply + 2).to() == duty &&
           !study.captured(ply + 1) && !attacks_from(study.at(ply + 2), reply.to()).contains(duty) &&
           (study.captured(ply + 2) || study.at(ply + 3).is_checkmate());
}

Level level_of(const Study& study, std::size_t ply, Square guard) {
    if (!study.wins() || study.settled(ply + 3) - study.balance(ply) < 1 ||
        !study.sound(ply, study.balance(ply))) {
        return Level::seen;
    }
    // Drop-test: the guard back on its square, the next move no longer brings what it brought.
    const auto back = relocated(study.at(ply + 2), study.move(ply + 1).to(), guard);
    return back && study.fails_in(*back, ply + 2) ? Level::decisive : Level::seen;
}

void report(const Study& study, std::size_t ply, Square guard, Square duty, Level level, Found& found) {
    Evidence evidence;
    evidence.motif = "driving-off-the-guard";
    evidence.ply = ply;
    evidence.level = level;
    evidence.certainty = solve::Certainty::searched;
    evidence.targets = {guard, duty};
    evidence.why = fmt::format("the {} is chased from guarding {}", man(study.at(ply + 1), guard),
                               man(study.at(ply + 1), duty));
    found.push_back(std::move(evidence));
}

} // namespace

void detect_driving_off_the_guard(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply + 1); ply += 2) {
        const board::Position& position = study.at(ply + 1);
        const Square guard = study.move(ply + 1).from();
        const bool chased = !study.gives_check(ply) && loss_on(position, guard) > 0 &&
                            attacks_from(position, study.move(ply).to()).contains(guard);
        if (!chased) {
            continue;
        }
        if (study.has(ply + 2)) {
            const Square duty = study.move(ply + 2).to();
            if (attacks_from(position, guard).contains(duty) && driven_off(study, ply, guard, duty)) {
                report(study, ply, guard, duty, level_of(study, ply, guard), found);
                continue;
            }
        }
        for (const Square duty : attacks_from(position, guard) & position.pieces(study.them())) {
            if (position.attackers(duty, study.us()).any()) {
                report(study, ply, guard, duty, Level::seen, found);
                break;
            }
        }
    }
}

} // namespace motif
