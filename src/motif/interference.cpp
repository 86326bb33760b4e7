#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Move;
using board::Position;
using board::Square;

/// The move mates, or brings more than its square costs.
bool pays(const Position& position, Move move) {
    const Position after = position.after(move);
    const auto taken = position.captured(move);
    const int brought = (taken ? board::value_of(*taken) : 0) +
                        (move.is_promotion() ? board::value_of(move.promotes_to()) - 1 : 0);
    return after.is_checkmate() || (brought >= 1 && brought - loss_on(after, move.to()) >= 1);
}

/// The move uses a square out of `cut`, and with the interposed man off the board it would not pay.
bool freed(const Position& position, Move move, Bitboard cut, Square interposed) {
    if (!cut.contains(move.to()) || move.from() == interposed || !pays(position, move)) {
        return false;
    }
    const auto open = without(position, interposed);
    return open && open->is_legal(move) && !pays(*open, move);
}

/// In the line after one reply, or as the threat the line gives material to meet.
std::optional<Move> use_of(const Study& study, std::size_t ply, Bitboard cut) {
    const Square interposed = study.move(ply).to();
    if (study.has(ply + 2)) {
        const Position& position = study.at(ply + 2);
        const bool stands = position.pieces(study.us()).contains(interposed);
        if (stands && freed(position, study.move(ply + 2), cut, interposed)) {
            return study.move(ply + 2);
        }
    }
    if (const auto free = study.passed(ply)) {
        for (const Move move : free->legal_moves()) {
            if (freed(*free, move, cut, interposed)) {
                return move;
            }
        }
    }
    return std::nullopt;
}

} // namespace

void detect_interference(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
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
