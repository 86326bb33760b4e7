#include "motif/detectors.hpp"
#include "motif/geometry.hpp"
#include "motif/luring.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace motif {
namespace {

using board::Bitboard;
using board::Move;
using board::Position;
using board::Square;

/// The lured man guarded the square the solver's next move uses, and no longer does.
bool guard_left(const Study& study, const Luring& luring) {
    const Square duty = study.move(luring.ply + 2).to();
    if (duty == luring.to) {
        return false;
    }
    const bool before = attacks_from(study.at(luring.ply + 1), luring.from).contains(duty);
    return before && !attacks_from(study.at(luring.ply + 2), luring.to).contains(duty);
}

/// With the lured man back, the mate could be answered by him alone: a guard by interposition or capture.
bool alone_saves(const Study& study, const Luring& luring, const Position& back) {
    const Move next = study.move(luring.ply + 2);
    if (!study.at(luring.ply + 3).is_checkmate() || next.to() == luring.to || !back.is_legal(next)) {
        return false;
    }
    const board::MoveList replies = back.after(next).legal_moves();
    const bool king = back.pieces(board::Role::king).contains(luring.from);
    return !king && !replies.empty() && std::all_of(replies.begin(), replies.end(), [&](Move reply) {
        return reply.from() == luring.from;
    });
}

/// The solver took something the lured man alone guarded, and what he uses next was guarded by it alone as
/// well.
bool overloaded(const Study& study, const Luring& luring) {
    const Position& before = study.at(luring.ply);
    const Square first = study.move(luring.ply).to();
    const Square second = study.move(luring.ply + 2).to();
    const Bitboard guard(luring.from);
    Bitboard second_guards = before.attackers(second, study.them());
    if (study.at(luring.ply + 3).is_checkmate() && !guard.contains(before.king(study.them()))) {
        second_guards &= ~Bitboard(before.king(study.them())); // he guards the mating square in vain
    }
    // Taking the first would cost something if the guard could attend to it alone.
    const int alone = solve::exchange_gain(before, first, study.us());
    return study.captured(luring.ply) && luring.to == first && second != first && second_guards == guard &&
           study.at(luring.ply + 1).attackers(first, study.them()) == guard &&
           alone < study.captured_worth(luring.ply);
}

Level level_of(const Study& study, const Luring& luring, const std::optional<Position>& back) {
    // A king that only steps out of check into mate has left no post.
    const bool king_flees = study.mover(luring.ply + 1) == board::Role::king && !luring.offer &&
                            !study.captured(luring.ply + 2) && !study.move(luring.ply + 2).is_promotion();
    const bool forcing = luring.offer || (luring.check && !king_flees);
    const bool uses = study.captured(luring.ply + 2) || study.at(luring.ply + 3).is_checkmate() ||
                      study.move(luring.ply + 2).is_promotion();
    if (!forcing || !uses || !pays(study, luring)) {
        return Level::seen;
    }
    // Drop-test: the lured man back on its square, the next move no longer brings what it brought.
    return back && study.fails_in(*back, luring.ply + 2) ? Level::decisive : Level::seen;
}

} // namespace

void detect_deflection(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const auto luring = luring_at(study, ply);
        if (!luring) {
            continue;
        }
        const auto back = lured_back(study, *luring);
        const bool left = guard_left(study, *luring);
        if (!left && !(back && alone_saves(study, *luring, *back))) {
            continue;
        }
        Evidence evidence;
        evidence.motif = overloaded(study, *luring) ? "overloaded-unit" : "deflection";
        evidence.ply = ply;
        evidence.level = level_of(study, *luring, back);
        evidence.certainty = solve::Certainty::searched;
        const Square duty = study.move(ply + 2).to();
        evidence.targets = {luring->from, duty};
        evidence.why = fmt::format("the {} is drawn away from guarding {}",
                                   man(study.at(ply + 1), luring->from), board::name(duty));
        also_called(evidence, "decoy", found);
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
