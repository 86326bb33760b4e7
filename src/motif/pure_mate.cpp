// Economy of the final position: pure, model and ideal mates, the strict reading (a double check is never
// pure, a guarded blocker never is either).

#include "motif/detectors.hpp"
#include "motif/geometry.hpp"
#include "motif/mate_net.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Role;
using board::Square;

bool pure(const MateNet& net) {
    if (net.position.checkers().many()) {
        return false;
    }
    for (const Square square : net.field) {
        int guards = 0;
        for (const Square man_square : net.position.pieces(net.us)) {
            guards += net.guarded_by(Bitboard(man_square)).contains(square);
        }
        if (guards != (net.blocked.contains(square) ? 0 : 1)) {
            return false;
        }
    }
    return true;
}

/// Men of the attack that check, guard a square next to the king or pin a man of his.
Bitboard takes_part(const MateNet& net) {
    Bitboard men = net.position.checkers();
    for (const Square square : net.position.pieces(net.us)) {
        men |= net.guarded_by(Bitboard(square)).any() ? Bitboard(square) : Bitboard();
    }
    for (const Square pinned : net.position.pinned(!net.us)) {
        if (const auto pinner = pinner_of(net.position, pinned)) {
            men |= Bitboard(*pinner);
        }
    }
    return men;
}

} // namespace

void detect_pure_mate(const Study& study, Found& found) {
    const auto net = mate_net(study);
    if (!net || !pure(*net)) {
        return;
    }
    const board::Position& position = net->position;
    const Bitboard idle = position.pieces(net->us) & ~takes_part(*net);
    const bool model = (idle & ~position.pieces(Role::pawn) & ~position.pieces(Role::king)).empty();
    const Bitboard needed = net->blocked | position.pinned(!net->us) | Bitboard(net->king);
    const bool ideal = idle.empty() && (position.pieces(!net->us) & ~needed).empty();
    Evidence evidence;
    evidence.motif = ideal ? "ideal-mate" : model ? "model-mate" : "pure-mate";
    evidence.ply = study.plies() - 1;
    evidence.level = Level::decisive;
    evidence.targets = {net->king};
    evidence.why = fmt::format("every square around the {} is barred once{}", man(position, net->king),
                               ideal   ? ", and every man on the board has his part in it"
                               : model ? ", and every officer of the attack has his part in it"
                                       : "");
    found.push_back(std::move(evidence));
}

} // namespace motif
