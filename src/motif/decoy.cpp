#include "motif/detectors.hpp"
#include "motif/geometry.hpp"
#include "motif/luring.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Position;
using board::Role;
using board::Square;

/// The next move strikes the man on the square it was drawn to: check, attack, capture, or a mate it blocks
/// flight of.
bool struck_there(const Study& study, const Luring& luring) {
    const Position& now = study.at(luring.ply + 2);
    const Position& next = study.at(luring.ply + 3);
    const Role role = now.at(luring.to)->role;
    const Square king = next.king(study.them());
    if (role == Role::king) {
        return next.in_check() && study.follow(luring.to, luring.ply + 2, luring.ply + 3).has_value();
    }
    if (study.move(luring.ply + 2).to() == luring.to) { // taken at once: only if dearer than what was offered
        return board::value_of(role) > study.captured_worth(luring.ply + 1);
    }
    const bool blocks = next.is_checkmate() && board::distance(king, luring.to) == 1;
    const Bitboard strikers = next.attackers(luring.to, study.us()) & ~now.attackers(luring.to, study.us());
    const auto falls = study.taken(luring.to, luring.ply + 3, luring.ply + 6);
    return blocks || (strikers.any() && falls);
}

Level level_of(const Study& study, const Luring& luring) {
    if (!luring.offer || !pays(study, luring)) {
        return Level::seen;
    }
    // Drop-test: the man on its old square, the next move no longer brings what it brought.
    const auto back = lured_back(study, luring);
    return back && study.fails_in(*back, luring.ply + 2) ? Level::decisive : Level::seen;
}

} // namespace

void detect_decoy(const Study& study, Found& found) {
    for (std::size_t ply = 0; study.has(ply); ply += 2) {
        const auto luring = luring_at(study, ply);
        const bool onto = luring && study.captured(ply + 1) && luring->to == study.move(ply).to();
        if (!onto || !struck_there(study, *luring)) {
            continue;
        }
        Evidence evidence;
        evidence.motif = "decoy";
        evidence.ply = ply;
        evidence.level = level_of(study, *luring);
        evidence.certainty = solve::Certainty::searched;
        evidence.targets = {luring->to};
        evidence.why = fmt::format("the {} is drawn to {} and struck there",
                                   man(study.at(ply + 1), luring->from), board::name(luring->to));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
