#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Move;
using board::Position;
using board::Role;
using board::Square;

/// Caged: it attacks squares, but on none of them is it safe or sold for as much.
bool caged(const Position& position, Square square) {
    return !could_escape(position, square);
}

/// It hangs now, or the solver, were it his turn, has a move after which it hangs and is still caged.
bool lost(const Position& position, const std::optional<Position>& free, Square square) {
    if (loss_on(position, square) > 0) {
        return true;
    }
    if (!free) {
        return false;
    }
    for (const Move move : free->legal_moves()) {
        const Position after = free->after(move);
        if (move.to() != square && loss_on(after, square) > 0 && loss_on(after, move.to()) <= 0 &&
            caged(after, square)) {
            return true;
        }
    }
    return false;
}

Level level_of_trap(const Study& study, std::size_t ply, Square square) {
    const int base = study.balance(ply + 1);
    const auto capture = study.taken(square, ply + 1, ply + 4);
    const bool ends_here = study.plies() <= ply + 2;
    if (!capture && !ends_here) {
        return Level::seen;
    }
    const int gain = capture ? study.settled(*capture + 1) - base : study.forced(ply + 1) - base;
    const int before = solve::exchange_gain(study.at(ply), square, study.us());
    if (gain < 1 || before >= gain || !study.sound(ply, base)) {
        return Level::seen;
    }
    return Level::functional;
}

} // namespace

void detect_trapped_piece(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const Position& position = study.at(ply + 1);
        if (position.in_check()) {
            continue; // what cannot move because of a check is not caged
        }
        const auto free = study.passed(ply);
        const Bitboard pieces =
            position.pieces(study.them()) & ~position.pieces(Role::pawn) & ~position.pieces(Role::king);
        for (const Square square : pieces) {
            const bool hung_before = loss_on(study.at(ply), square) > 0;
            if (!caged(position, square) || !lost(position, free, square)) {
                continue;
            }
            Evidence evidence;
            evidence.motif = "trapped-piece";
            evidence.ply = ply;
            evidence.level = hung_before ? Level::seen : level_of_trap(study, ply, square);
            evidence.certainty = solve::Certainty::searched;
            evidence.targets = {square};
            evidence.why = fmt::format("the {} has no safe square", man(position, square));
            found.push_back(std::move(evidence));
        }
    }
}

} // namespace motif
