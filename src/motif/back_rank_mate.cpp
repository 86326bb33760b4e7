#include "motif/detectors.hpp"
#include "motif/mate_net.hpp"

namespace motif {
namespace {

using board::Bitboard;
using board::Role;
using board::Square;

bool back_rank(const MateNet& net) {
    const Bitboard inner = net.field & ~board::rank_bits(board::rank_of(net.king));
    const bool home = board::relative_rank(!net.us, net.king) == 0;
    return home && net.heavy() && net.ranks_away() == 0 && (inner & net.blocked & ~net.guarded).any();
}

/// Not mated, but hit on its own first rank by a heavy piece: enough for a tag, too little for a suggestion.
void report_back_rank_checks(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const board::Position& position = study.at(ply + 1);
        const Square king = position.king(study.them());
        const Square arrival = study.move(ply).to();
        const Bitboard heavy =
            position.pieces(study.us(), Role::rook) | position.pieces(study.us(), Role::queen);
        const bool same_rank = board::rank_of(king) == board::rank_of(arrival);
        if (heavy.contains(arrival) && same_rank && board::relative_rank(study.them(), king) == 0) {
            found.push_back({"back-rank-mate",
                             ply,
                             Level::seen,
                             solve::Certainty::proved,
                             {king},
                             "a heavy piece comes to the king's first rank"});
        }
    }
}

} // namespace

void detect_back_rank_mate(const Study& study, Found& found) {
    const auto net = mate_net(study);
    if (net && back_rank(*net)) {
        report_mate(study, *net, "back-rank-mate", Level::decisive, found);
    }
    report_back_rank_checks(study, found);
}

} // namespace motif
