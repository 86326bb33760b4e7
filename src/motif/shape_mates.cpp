#include "motif/detectors.hpp"
#include "motif/mate_net.hpp"

#include <cstdlib>

namespace motif {
namespace {

using board::Bitboard;
using board::Role;
using board::Square;

void smothered(const Study& study, const MateNet& net, Found& found) {
    const Bitboard open = net.field & ~net.blocked;
    if (net.role != Role::knight || open.many()) {
        return;
    }
    report_mate(study, net, "smothered-mate", open.empty() ? Level::decisive : Level::seen, found);
    if (open.any()) { // some books allow one guarded square
        Evidence loose = found.back();
        loose.level = Level::decisive;
        also_called(std::move(loose), "smothered-mate", found);
    }
}

/// +1 on a rising diagonal (a1-h8), -1 on a falling one.
int slope(Square a, Square b) {
    const int files = board::file_of(a) - board::file_of(b);
    const int ranks = board::rank_of(a) - board::rank_of(b);
    return (files > 0) == (ranks > 0) ? 1 : -1;
}

void two_bishops(const Study& study, const MateNet& net, Found& found) {
    const Bitboard open = net.field & ~net.blocked;
    for (const Square other : net.ours(Role::bishop) & ~Bitboard(net.checker)) {
        const Bitboard helped =
            open & net.guarded_by(Bitboard(other)) & ~net.guarded_by(Bitboard(net.checker));
        const Bitboard rest = open & ~net.guarded_by(Bitboard(other) | Bitboard(net.checker));
        if (net.role != Role::bishop || helped.empty() || rest.any()) {
            continue;
        }
        bool crossing = false;
        for (const Square square : helped) {
            crossing = crossing || slope(other, square) != slope(net.checker, net.king);
        }
        const bool boden = crossing && net.blocked.any();
        if (boden || !crossing) {
            report_mate(study, net, boden ? "boden-mate" : "two-bishops-mate", Level::decisive, found);
        }
    }
}

/// Shoulders anywhere: a heavy piece mates at right angles to two neighbours the king's own men hold.
bool loose_epaulette(const MateNet& net) {
    return net.heavy() && ((net.files_away() == 0 && net.blocked_at(1, 0) && net.blocked_at(-1, 0)) ||
                           (net.ranks_away() == 0 && net.blocked_at(0, 1) && net.blocked_at(0, -1)));
}

/// At the edge, the queen one square off: the picture after which it is named.
bool epaulette(const MateNet& net) {
    const int file = board::file_of(net.king);
    const int rank = board::rank_of(net.king);
    const bool across = (rank == 0 || rank == 7) && net.files_away() == 0 && std::abs(net.ranks_away()) == 2;
    const bool along = (file == 0 || file == 7) && net.ranks_away() == 0 && std::abs(net.files_away()) == 2;
    return net.role == Role::queen && (across || along) && loose_epaulette(net);
}

void epaulettes(const Study& study, const MateNet& net, Found& found) {
    if (!loose_epaulette(net)) {
        return;
    }
    report_mate(study, net, "epaulette-mate", Level::decisive, found);
    found.back().wider = !epaulette(net);
}

/// A guarded queen next to the king, and the two squares behind him she does not reach held by his own men.
void tails(const Study& study, const MateNet& net, Found& found) {
    const int files = net.files_away();
    const int ranks = net.ranks_away();
    if (net.role != Role::queen || board::distance(net.king, net.checker) != 1 ||
        !net.guarded_man(net.checker)) {
        return;
    }
    if (files != 0 && ranks != 0) {
        if (net.blocked_at(-files, 0) && net.blocked_at(0, -ranks)) {
            report_mate(study, net, "dovetail-mate", Level::decisive, found);
        }
    } else if (net.blocked_at(files != 0 ? -files : 1, ranks != 0 ? -ranks : 1) &&
               net.blocked_at(files != 0 ? -files : -1, ranks != 0 ? -ranks : -1)) {
        report_mate(study, net, "swallow-tail-mate", Level::decisive, found);
    }
}

} // namespace

void detect_shape_mates(const Study& study, Found& found) {
    if (const auto net = mate_net(study)) {
        smothered(study, *net, found);
        two_bishops(study, *net, found);
        epaulettes(study, *net, found);
        tails(study, *net, found);
    }
}

} // namespace motif
