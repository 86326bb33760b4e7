#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace motif {
namespace {

using board::Move;
using board::Position;
using board::Square;

/// Attacked, and no move saves it.
bool doomed(const Position& position, Square square) {
    return loss_on(position, square) > 0 && !could_escape(position, square);
}

/// No other move of the solver keeps as much.
bool dearest_sale(const Study& study, std::size_t ply) {
    const int kept = study.forced(ply + 1);
    const auto moves = study.at(ply).legal_moves();
    return std::none_of(moves.begin(), moves.end(), [&](Move other) {
        return other != study.move(ply) &&
               study.settler().keeps(study.at(ply).after(other), study.us(), kept, 0);
    });
}

} // namespace

void detect_desperado(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const Move move = study.move(ply);
        const auto role = study.mover(ply);
        const bool sold = study.captured(ply) && role != board::Role::king && role != board::Role::pawn &&
                          study.captured_worth(ply) < board::value_of(role) &&
                          loss_on(study.at(ply + 1), move.to()) > 0;
        if (!sold || loss_on(study.at(ply), move.from()) <= 0) {
            continue;
        }
        const bool taken =
            study.has(ply + 1) && study.captured(ply + 1) && study.move(ply + 1).to() == move.to();
        Evidence evidence;
        evidence.motif = "desperado";
        evidence.ply = ply;
        if (taken && doomed(study.at(ply), move.from()) && dearest_sale(study, ply)) {
            evidence.level = Level::functional;
        }
        evidence.certainty = solve::Certainty::searched;
        evidence.targets = {move.from(), move.to()};
        evidence.why = fmt::format("the {} is lost and takes the {} with it", man(study.at(ply), move.from()),
                                   man(study.at(ply), square_taken(move)));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
