#include "motif/detectors.hpp"
#include "motif/mate_net.hpp"

#include <cstdlib>

namespace motif {
namespace {

using board::Bitboard;
using board::Role;
using board::Square;

/// The rank or file that runs through king and checker, if they share one.
Bitboard check_line(const MateNet& net) {
    const bool straight = net.files_away() == 0 || net.ranks_away() == 0;
    return straight ? board::line_through(net.king, net.checker) : Bitboard();
}

bool on_edge(Bitboard line) {
    return line == board::file_bits(0) || line == board::file_bits(7) || line == board::rank_bits(0) ||
           line == board::rank_bits(7);
}

bool touches_king_straight(const MateNet& net) {
    return std::abs(net.files_away()) + std::abs(net.ranks_away()) == 1;
}

bool corridor(const MateNet& net) {
    const Bitboard line = check_line(net);
    const Bitboard off = net.field & ~line;
    const Bitboard others = net.position.pieces(net.us) & ~Bitboard(net.checker);
    return net.heavy() && line.any() && (off & ~net.blocked & ~net.guarded_by(others)).empty();
}

bool ladder(const MateNet& net) {
    const Bitboard line = check_line(net);
    if (!net.heavy() || !on_edge(line) || net.blocked.any()) {
        return false;
    }
    const Bitboard inner = net.field & ~line;
    Square last = inner.first();
    for (const Square square : inner) {
        last = square;
    }
    const Bitboard row = board::line_through(inner.first(), last);
    for (const Square second : (net.ours(Role::rook) | net.ours(Role::queen)) & ~Bitboard(net.checker)) {
        if (row.contains(second) && (inner & ~net.guarded_by(Bitboard(second))).empty()) {
            return true;
        }
    }
    return false;
}

/// Off the edge line every square is blocked or guarded by one and the same man of `role`, with both kinds
/// present.
bool one_helper(const MateNet& net, Role role) {
    const Bitboard line = check_line(net);
    if (!net.heavy() || !on_edge(line)) {
        return false;
    }
    const Bitboard off = net.field & ~line;
    for (const Square helper : net.ours(role)) {
        const Bitboard guarded = net.guarded_by(Bitboard(helper)) & off & ~net.blocked;
        if (guarded.any() && (off & net.blocked).any() && (off & ~net.blocked & ~guarded).empty()) {
            return true;
        }
    }
    return false;
}

bool arabian(const MateNet& net) {
    const int file = board::file_of(net.king);
    const int rank = board::rank_of(net.king);
    const bool corner = (file == 0 || file == 7) && (rank == 0 || rank == 7);
    if (!corner || net.role != Role::rook || !touches_king_straight(net)) {
        return false;
    }
    const Square post = board::square_at(file == 0 ? 2 : 5, rank == 0 ? 2 : 5);
    return net.ours(Role::knight).contains(post);
}

bool hook(const MateNet& net) {
    const Bitboard pawns = net.position.pieces(!net.us, Role::pawn);
    if (net.role != Role::rook || !touches_king_straight(net) || (net.blocked & pawns).empty()) {
        return false;
    }
    for (const Square knight : net.ours(Role::knight) & board::knight_attacks(net.checker)) {
        if ((net.ours(Role::pawn) & board::pawn_attacks(!net.us, knight)).any()) {
            return true;
        }
    }
    return false;
}

bool opera(const MateNet& net) {
    const bool home = board::relative_rank(!net.us, net.king) == 0;
    if (!home || net.role != Role::rook || !touches_king_straight(net) || net.ranks_away() != 0 ||
        net.blocked.empty()) {
        return false;
    }
    for (const Square bishop : net.ours(Role::bishop)) {
        const Bitboard guarded = net.guarded_by(Bitboard(bishop));
        if (guarded.contains(net.checker) && (guarded & ~net.blocked & ~Bitboard(net.checker)).any()) {
            return true;
        }
    }
    return false;
}

} // namespace

void detect_edge_mates(const Study& study, Found& found) {
    const auto net = mate_net(study);
    if (!net) {
        return;
    }
    const auto report_if = [&](bool holds, std::string_view motif) {
        if (holds) {
            report_mate(study, *net, motif, Level::decisive, found);
        }
    };
    if (corridor(*net)) { // the general picture, hardly ever worth a name of its own
        report_mate(study, *net, "corridor-mate", Level::functional, found);
    }
    report_if(ladder(*net), "ladder-mate");
    // On a file these are the pictures of the books; on a rank the same test holds for many a back-rank mate.
    const Level level = net->files_away() == 0 ? Level::decisive : Level::seen;
    if (one_helper(*net, Role::knight)) {
        report_mate(study, *net, "anastasia-mate", level, found);
    }
    if (one_helper(*net, Role::bishop)) {
        report_mate(study, *net, "greco-mate", level, found);
    }
    report_if(arabian(*net), "arabian-mate");
    report_if(hook(*net), "hook-mate");
    report_if(opera(*net), "opera-mate");
}

} // namespace motif
