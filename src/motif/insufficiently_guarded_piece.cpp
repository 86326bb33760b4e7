#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {

using board::Bitboard;
using board::Square;

void detect_insufficiently_guarded_piece(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const auto role = study.captured(ply);
        if (!role || *role == board::Role::pawn) {
            continue;
        }
        const board::Position& position = study.at(ply);
        const Square prey = square_taken(study.move(ply));
        const Bitboard guards = position.attackers(prey, study.them());
        const int won = solve::exchange_gain(position, prey, study.us());
        if (guards.empty() || won < 1) {
            continue;
        }
        Evidence evidence;
        evidence.motif = "insufficiently-guarded-piece";
        evidence.ply = ply;
        evidence.targets = {prey};
        evidence.certainty = solve::Certainty::searched;
        if (study.settled(ply + 1) - study.balance(ply) >= 1 && study.sound(ply, study.balance(ply))) {
            evidence.level = Level::functional;
        }
        const Bitboard attackers = position.attackers(prey, study.us());
        evidence.why =
            attackers.count() > guards.count()
                ? fmt::format("the {} is attacked more often than guarded", man(position, prey))
                : fmt::format("the guards of the {} cost more than those who take it", man(position, prey));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
