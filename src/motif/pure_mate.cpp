// Economy of the final position: pure, model and ideal mates. The strict reading: a double check is never
// pure, a guarded blocker never is either. Who reads it wider lets two guards of blockers pass.

#include "motif/detectors.hpp"
#include "motif/geometry.hpp"
#include "motif/mate_net.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Role;
using board::Square;

enum class Purity : std::uint8_t { none, wider, strict };

/// Men of the attack whose guard of a blocked square some books do not count: the man that pins the blocker,
/// and the one whose check runs on through the king.
Bitboard overlooked_guards(const MateNet& net, Square blocker) {
    Bitboard men;
    if (const auto pinner = pinner_of(net.position, blocker)) {
        men |= Bitboard(*pinner);
    }
    if (board::between(net.checker, blocker).contains(net.king)) {
        men |= Bitboard(net.checker);
    }
    return men;
}

Purity purity_of(const MateNet& net) {
    if (net.position.checkers().many()) {
        return Purity::none;
    }
    Purity purity = Purity::strict;
    for (const Square square : net.field) {
        Bitboard guards;
        for (const Square man_square : net.position.pieces(net.us)) {
            guards |=
                net.guarded_by(Bitboard(man_square)).contains(square) ? Bitboard(man_square) : Bitboard();
        }
        if (!net.blocked.contains(square)) {
            purity = guards.count() == 1 ? purity : Purity::none;
        } else if (guards.any()) {
            const bool overlooked = (guards & ~overlooked_guards(net, square)).empty();
            purity = overlooked && purity != Purity::none ? Purity::wider : Purity::none;
        }
    }
    return purity;
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
    const Purity purity = net ? purity_of(*net) : Purity::none;
    if (purity == Purity::none) {
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
    evidence.wider = purity == Purity::wider;
    evidence.targets = {net->king};
    evidence.why = fmt::format("every square around the {} is barred once{}", man(position, net->king),
                               ideal   ? ", and every man on the board has his part in it"
                               : model ? ", and every officer of the attack has his part in it"
                                       : "");
    found.push_back(std::move(evidence));
}

} // namespace motif
