#include "motif/mate_net.hpp"

#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {

using board::Bitboard;
using board::Square;

Bitboard MateNet::guarded_by(Bitboard men) const {
    Bitboard squares;
    for (const Square man_square : men) {
        squares |= attacks_from(position, man_square, Bitboard(king));
    }
    return squares & field;
}

bool MateNet::guarded_man(Square square) const {
    return (position.attackers(square, us) & ~Bitboard(square)).any();
}

int MateNet::files_away() const {
    return board::file_of(checker) - board::file_of(king);
}
int MateNet::ranks_away() const {
    return board::rank_of(checker) - board::rank_of(king);
}

bool MateNet::blocked_at(int files, int ranks) const {
    const int file = board::file_of(king) + files;
    const int rank = board::rank_of(king) + ranks;
    return file >= 0 && file < 8 && rank >= 0 && rank < 8 && blocked.contains(board::square_at(file, rank));
}

std::optional<MateNet> mate_net(const Study& study) {
    if (!study.mates() || study.plies() == 0) {
        return std::nullopt;
    }
    const board::Position& position = study.last();
    const Square moved = study.move(study.plies() - 1).to();
    const Bitboard checkers = position.checkers();
    const Square king = position.king(study.them());
    const Square checker = checkers.contains(moved) ? moved : checkers.first();
    MateNet net{position, study.us(), king, checker, position.at(checker)->role, board::king_attacks(king),
                {},       {}};
    net.blocked = net.field & position.pieces(study.them());
    net.guarded = net.guarded_by(position.pieces(study.us()));
    return net;
}

void report_mate(const Study& study, const MateNet& net, std::string_view motif, Level level,
                 std::vector<Evidence>& found) {
    Evidence evidence;
    evidence.motif = motif;
    evidence.ply = study.plies() - 1;
    evidence.level = level;
    evidence.targets = {net.king};
    evidence.why =
        fmt::format("the {} mates the {}", man(net.position, net.checker), man(net.position, net.king));
    found.push_back(std::move(evidence));
}

} // namespace motif
