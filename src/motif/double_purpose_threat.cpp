#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Move;
using board::Position;
using board::Square;

/// Where the side to move mates at once.
Bitboard mating_squares(const Position& position) {
    Bitboard squares;
    for (const Move move : position.legal_moves()) {
        if (position.gives_check(move) && position.after(move).is_checkmate()) {
            squares |= Bitboard(move.to());
        }
    }
    return squares;
}

/// Men the side to move can win, but could not win in `before`.
Bitboard fresh_prey(const Position& position, const Position& before) {
    Bitboard prey;
    for (const Square square : position.pieces(!position.turn())) {
        const int now = loss_on(position, square);
        if (now >= 1 && now > solve::exchange_gain(before, square, position.turn())) {
            prey |= Bitboard(square);
        }
    }
    return prey;
}

} // namespace

void detect_double_purpose_threat(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const auto threat = study.passed(ply); // none after a check
        if (!threat || study.captured(ply)) {
            continue;
        }
        const Bitboard mates = mating_squares(*threat);
        const Bitboard prey = fresh_prey(*threat, study.at(ply)) & ~mates;
        if (mates.empty() || prey.empty()) {
            continue;
        }
        const int base = study.balance(ply + 1);
        Bitboard taken;
        for (const Square square : prey) {
            taken |= study.taken(square, ply + 1, ply + 2) ? Bitboard(square) : Bitboard();
        }
        const bool executed = !study.has(ply + 2) || taken.any() || study.at(ply + 3).is_checkmate();
        Evidence evidence;
        evidence.motif = "double-purpose-threat";
        evidence.ply = ply;
        evidence.certainty = solve::Certainty::searched;
        const Square target = (taken.any() ? taken : prey).first();
        if (executed && mating_squares(study.at(ply)).empty() && study.sound(ply, base)) {
            // Drop-test: were there no mate to parry, the man could save itself.
            const bool needed = study.has(ply + 2) && could_escape(*threat, target);
            evidence.level = needed ? Level::decisive : Level::functional;
        }
        evidence.targets = {mates.first(), target};
        evidence.why = fmt::format("{} threatens mate on {} and the {}", board::name(study.move(ply).to()),
                                   board::name(mates.first()), man(*threat, target));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
