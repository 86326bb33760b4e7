#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Position;
using board::Role;
using board::Square;

/// The line piece that pins the knight on `knight` to its queen.
std::optional<Square> pinner_to_queen(const Position& position, Square knight, board::Color us) {
    for (const Square pinner : line_men(position, !us)) {
        if (!attacks_from(position, pinner).contains(knight)) {
            continue;
        }
        const auto rear = behind(position, pinner, knight);
        if (rear && position.pieces(us, Role::queen).contains(*rear)) {
            return pinner;
        }
    }
    return std::nullopt;
}

/// Within three more moves the line mates, and only minor men move to do it.
bool minor_men_mate(const Study& study, std::size_t ply) {
    if (!study.mates() || study.plies() > ply + 7) {
        return false;
    }
    for (std::size_t later = ply + 2; study.has(later); later += 2) {
        const Role role = study.mover(later);
        if (role != Role::knight && role != Role::bishop) {
            return false;
        }
    }
    return study.has(ply + 2);
}

} // namespace

void detect_legal_mate(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply + 1); ply += 2) {
        const Square knight = study.move(ply).from();
        if (study.mover(ply) != Role::knight || study.captured(ply + 1) != Role::queen) {
            continue;
        }
        const auto pinner = pinner_to_queen(study.at(ply), knight, study.us());
        if (!pinner || study.move(ply + 1).from() != *pinner) {
            continue;
        }
        Evidence evidence;
        evidence.motif = "legal-mate";
        evidence.ply = ply;
        if (minor_men_mate(study, ply) && study.mate_forced(ply + 2)) {
            evidence.level = study.sound(ply, study.balance(ply)) ? Level::decisive : Level::functional;
        }
        evidence.certainty = solve::Certainty::searched;
        evidence.targets = {study.move(ply + 1).to(), study.last().king(study.them())};
        evidence.why = fmt::format("the knight on {} moves though pinned to its queen, and minor men mate "
                                   "whoever takes her",
                                   board::name(knight));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
