#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace motif {
namespace {

using board::Move;
using board::Position;
using board::Square;

/// Is the follow-up legal while the guard still stands, and could he answer it: by a capture on the square of
/// arrival, or with the only replies to what would else be mate?
bool guard_answers(const Position& before, Move follow_up, Square guard) {
    if (!before.is_legal(follow_up)) {
        return false;
    }
    const Position after = before.after(follow_up);
    const board::MoveList replies = after.legal_moves();
    if (after.in_check() && !replies.empty()) {
        return std::all_of(replies.begin(), replies.end(), [&](Move reply) { return reply.from() == guard; });
    }
    return attacks_from(after, guard).contains(follow_up.to());
}

/// The square the next move of the line takes or mates on, if the man just captured guarded it.
std::optional<Square> duty_in_line(const Study& study, std::size_t ply, Square guard) {
    if (!study.has(ply + 2) || (!study.captured(ply + 2) && !study.at(ply + 3).is_checkmate())) {
        return std::nullopt;
    }
    const Move next = study.move(ply + 2);
    if (next.to() == study.move(ply + 1).to() || next.to() == guard) {
        return std::nullopt; // the man that took back is no old target
    }
    const Position& before = study.at(ply);
    const bool guarded = attacks_from(before, guard).contains(next.to());
    return guarded || guard_answers(before, next, guard) ? std::optional(next.to()) : std::nullopt;
}

/// Something else the captured man guarded and the solver attacks.
std::optional<Square> duty_on_board(const Study& study, std::size_t ply, Square guard) {
    const Position& before = study.at(ply);
    for (const Square duty : attacks_from(before, guard) & before.pieces(study.them())) {
        if (before.attackers(duty, study.us()).any()) {
            return duty;
        }
    }
    return std::nullopt;
}

Level level_of(const Study& study, std::size_t ply, Square guard, Square duty) {
    const Position& before = study.at(ply);
    const bool mate = study.at(ply + 3).is_checkmate();
    const int base = study.balance(ply);
    const int alone = solve::exchange_gain(before, guard, study.us());
    const int gain = study.settled(ply + 3) - base;
    if (gain < 1 || (!mate && gain <= alone) || !study.sound(ply, base)) {
        return Level::seen;
    }
    if (!mate && solve::exchange_gain(before, duty, study.us()) >= gain) {
        return Level::seen; // it hung with the guard in place
    }
    // Drop-test: the follow-up at once, the guard still there, is answered by him.
    if (guard_answers(before, study.move(ply + 2), guard)) {
        return Level::decisive;
    }
    return mate ? Level::seen : Level::functional;
}

} // namespace

void detect_removing_the_guard(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        if (!study.captured(ply)) {
            continue;
        }
        const Square guard = square_taken(study.move(ply));
        const auto used = duty_in_line(study, ply, guard);
        const auto duty = used ? used : duty_on_board(study, ply, guard);
        if (!duty) {
            continue;
        }
        Evidence evidence;
        evidence.motif = "removing-the-guard";
        evidence.ply = ply;
        evidence.level = used ? level_of(study, ply, guard, *duty) : Level::seen;
        evidence.certainty = solve::Certainty::searched;
        evidence.targets = {guard, *duty};
        evidence.why = fmt::format("the {} guarded {}", man(study.at(ply), guard), board::name(*duty));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
