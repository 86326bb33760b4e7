#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Move;
using board::Position;
using board::Square;

/// The solver's moves that use a square out of `cut`: mates there, and captures and promotions that pay.
bool uses(const Position& position, Move move, Bitboard cut) {
    if (!cut.contains(move.to())) {
        return false;
    }
    const bool pays =
        position.is_capture(move) && solve::exchange_gain(position, move.to(), position.turn()) >= 1;
    return pays || move.is_promotion() || position.after(move).is_checkmate();
}

/// With the interposed man off the board the same move is guarded against.
bool guard_returns(const Position& position, Move move, Square interposed) {
    const auto open = without(position, interposed);
    if (!open || !open->is_legal(move)) {
        return false;
    }
    const Position after = open->after(move);
    return position.after(move).is_checkmate() ? !after.is_checkmate()
                                               : solve::exchange_gain(*open, move.to(), open->turn()) <= 0;
}

/// In the line after one reply, or as the threat the line gives material to meet.
std::optional<Move> use_of(const Study& study, std::size_t ply, Bitboard cut) {
    const Square interposed = study.move(ply).to();
    if (study.has(ply + 2)) {
        const Position& position = study.at(ply + 2);
        const bool stands = position.pieces(study.us()).contains(interposed);
        if (stands && uses(position, study.move(ply + 2), cut) &&
            guard_returns(position, study.move(ply + 2), interposed)) {
            return study.move(ply + 2);
        }
    }
    if (const auto free = study.passed(ply)) {
        for (const Move move : free->legal_moves()) {
            if (uses(*free, move, cut) && guard_returns(*free, move, interposed)) {
                return move;
            }
        }
    }
    return std::nullopt;
}

} // namespace

void detect_interference(const Study& study, Found& found) {
    for (std::size_t ply = 0; study.has(ply); ply += 2) {
        const Square interposed = study.move(ply).to();
        for (const Square guard : line_men(study.at(ply), study.them()) & ~Bitboard(interposed)) {
            const Bitboard cut = attacks_from(study.at(ply), guard) & ~attacks_from(study.at(ply + 1), guard);
            if (cut.empty() || study.captured(ply)) {
                continue;
            }
            const auto use = use_of(study, ply, cut);
            if (!use) {
                continue;
            }
            Evidence evidence;
            evidence.motif = "interference";
            evidence.ply = ply;
            evidence.level =
                study.wins() && study.sound(ply, study.balance(ply)) ? Level::decisive : Level::seen;
            evidence.certainty = solve::Certainty::searched;
            evidence.targets = {guard, use->to()};
            evidence.why = fmt::format("the {} cuts the {} off from {}", man(study.at(ply + 1), interposed),
                                       man(study.at(ply + 1), guard), board::name(use->to()));
            found.push_back(std::move(evidence));
        }
    }
}

} // namespace motif
