#include "motif/detectors.hpp"
#include "motif/geometry.hpp"
#include "motif/luring.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Square;

/// The solver's next move captures, promotes or mates on one of the squares.
bool used_next(const Study& study, std::size_t ply, Bitboard squares) {
    const board::Move next = study.move(ply + 2);
    const bool takes = study.captured(ply + 2) || next.is_promotion();
    return squares.contains(next.to()) && (takes || study.at(ply + 3).is_checkmate());
}

/// Squares `guard` attacked before the solver's move or before the reply, and no longer does for the man on
/// `obstacle`.
Bitboard shut_off(const Study& study, std::size_t ply, Square guard, Square obstacle) {
    const Bitboard before = attacks_from(study.at(ply), guard) | attacks_from(study.at(ply + 1), guard);
    Bitboard lost;
    for (const Square square : before & ~attacks_from(study.at(ply + 2), guard)) {
        lost |= board::between(guard, square).contains(obstacle) ? Bitboard(square) : Bitboard();
    }
    return lost;
}

/// Drop-test: with the man that stands in the way lifted off, the next move brings less.
Level level_of_block(const Study& study, std::size_t ply, Square obstacle) {
    const bool king = study.at(ply + 2).king(study.them()) == obstacle;
    if (!study.wins() || !study.sound(ply, study.balance(ply)) || (king && !study.captured(ply + 2))) {
        return Level::seen;
    }
    auto open = without(study.at(ply + 2), obstacle);
    if (!open) { // a king in the way cannot be lifted, but put back
        const auto luring = luring_at(study, ply);
        open = luring ? lured_back(study, *luring) : std::nullopt;
    }
    return open && study.fails_in(*open, ply + 2) ? Level::decisive : Level::seen;
}

} // namespace

void detect_obstruction(const Study& study, Found& found) {
    for (std::size_t ply = 0; study.has(ply + 2); ply += 2) {
        const Square obstacle = study.move(ply + 1).to();
        for (const Square guard : line_men(study.at(ply + 1), study.them())) {
            const Bitboard lost = shut_off(study, ply, guard, obstacle);
            if (guard == study.move(ply + 1).from() || !used_next(study, ply, lost)) {
                continue;
            }
            Evidence evidence;
            evidence.motif = "obstruction";
            evidence.ply = ply;
            evidence.level = level_of_block(study, ply, obstacle);
            evidence.certainty = solve::Certainty::searched;
            evidence.targets = {guard, study.move(ply + 2).to()};
            evidence.why = fmt::format("the {} shuts the {} off from {}", man(study.at(ply + 2), obstacle),
                                       man(study.at(ply + 2), guard), board::name(study.move(ply + 2).to()));
            found.push_back(std::move(evidence));
        }
    }
}

} // namespace motif
