#include "board/attacks.hpp"
#include "motif/detectors.hpp"
#include "motif/geometry.hpp"
#include "motif/luring.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Position;
using board::Role;

/// The man drawn next to its king takes a flight from him: without it there would be no mate.
bool blocks_flight(const Study& study, const Luring& luring) {
    const Position& mate = study.at(luring.ply + 3);
    if (!mate.is_checkmate() || board::distance(mate.king(study.them()), luring.to) != 1) {
        return false;
    }
    const auto open = without(mate, luring.to);
    return open && !open->is_checkmate();
}

/// The next move strikes the man on the square it was drawn to: check, an attack that wins it, or a mate it
/// helps. Taking it at once is no more than an exchange.
bool struck_there(const Study& study, const Luring& luring) {
    if (study.move(luring.ply + 2).to() == luring.to) {
        return false;
    }
    const Position& now = study.at(luring.ply + 2);
    const Position& next = study.at(luring.ply + 3);
    if (now.at(luring.to)->role == Role::king) {
        return next.in_check();
    }
    const Bitboard strikers = next.attackers(luring.to, study.us()) & ~now.attackers(luring.to, study.us());
    const bool falls = study.taken(luring.to, luring.ply + 3, luring.ply + 6).has_value();
    return blocks_flight(study, luring) || (strikers.any() && falls);
}

/// In `there` (the king stands elsewhere) the next move still mates as fast, or brings the better part of
/// what it brought: a pawn that falls because the move happens to check does not make the square matter.
bool serves_in(const Study& study, const Position& there, std::size_t ply) {
    if (!study.fails_in(there, ply)) {
        return true;
    }
    if (study.mates() || !there.is_legal(study.move(ply))) {
        return false;
    }
    const int gain = study.forced(ply + 1) - study.balance(ply);
    const int still = study.settler().worst_reply(there.after(study.move(ply)), study.us()) -
                      solve::balance(there, study.us());
    return 2 * still > gain;
}

/// The king guarded what the next move uses, and that move serves wherever he might have gone from there: he
/// was drawn away, not onto.
bool anywhere_serves(const Study& study, const Luring& luring) {
    const Position& now = study.at(luring.ply + 2);
    const board::Square duty = study.move(luring.ply + 2).to();
    if (!board::king_attacks(luring.from).contains(duty)) {
        return false;
    }
    const Bitboard elsewhere =
        board::king_attacks(luring.from) & ~board::king_attacks(duty) & ~now.occupied() & ~Bitboard(duty);
    bool tried = false;
    for (const board::Square square : elsewhere) {
        const auto there = relocated(now, luring.to, square);
        if (there && !serves_in(study, *there, luring.ply + 2)) {
            return false;
        }
        tried = tried || there.has_value();
    }
    return tried;
}

/// Taken where it was put, at no gain to the solver: an offer, or an exchange that draws the other man there.
bool put_there(const Study& study, const Luring& luring) {
    return study.captured_worth(luring.ply + 1) >= study.captured_worth(luring.ply);
}

Level level_of(const Study& study, const Luring& luring) {
    if (!put_there(study, luring) || !pays(study, luring)) {
        return Level::seen;
    }
    // Drop-test: the man on its old square, the next move no longer brings what it brought.
    const auto back = lured_back(study, luring);
    if (!back || !study.fails_in(*back, luring.ply + 2)) {
        return Level::seen;
    }
    // And elsewhere, or off the board altogether: if that serves as well, only what it left behind mattered.
    const auto gone = without(study.at(luring.ply + 2), luring.to); // nothing for a king
    const bool served = gone ? !study.fails_in(*gone, luring.ply + 2) : anywhere_serves(study, luring);
    return served ? Level::seen : Level::decisive;
}

} // namespace

void detect_decoy(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
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
