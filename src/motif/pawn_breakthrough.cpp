#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Position;
using board::Role;
using board::Square;

/// Passed pawns of the solver within two files of `file`.
Bitboard passed_near(const Study& study, const Position& position, int file) {
    Bitboard passed;
    for (const Square pawn : position.pieces(study.us(), Role::pawn)) {
        const int files = board::file_of(pawn) - file;
        if (files >= -2 && files <= 2 && is_passed(position, pawn, study.us())) {
            passed |= Bitboard(pawn);
        }
    }
    return passed;
}

/// The ply after which a solver's pawn near `file` first is passed.
std::optional<std::size_t> passed_at(const Study& study, std::size_t ply, int file) {
    for (std::size_t n = ply + 1; n <= study.plies(); ++n) {
        if (passed_near(study, study.at(n), file).any()) {
            return n;
        }
    }
    return std::nullopt;
}

bool promotes_after(const Study& study, std::size_t ply) {
    for (std::size_t later = ply + 2; study.has(later); later += 2) {
        if (study.move(later).is_promotion()) {
            return true;
        }
    }
    return false;
}

} // namespace

void detect_pawn_breakthrough(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply + 1); ply += 2) {
        const Square offered = study.move(ply).to();
        const Bitboard takers =
            study.at(ply + 1).pieces(study.them(), Role::pawn) & board::pawn_attacks(study.us(), offered);
        const int file = board::file_of(offered);
        if (study.mover(ply) != Role::pawn || study.captured(ply) || study.move(ply).is_promotion() ||
            takers.empty() || passed_near(study, study.at(ply), file).any()) {
            continue;
        }
        const auto passed = passed_at(study, ply, file);
        if (!passed) {
            continue;
        }
        const Square runner = passed_near(study, study.at(*passed), file).first();
        Evidence evidence;
        evidence.motif = "pawn-breakthrough";
        evidence.ply = ply;
        if (promotes_after(study, ply) && study.wins() && study.sound(ply, study.balance(ply))) {
            evidence.level = Level::functional;
        }
        evidence.certainty = solve::Certainty::searched;
        evidence.targets = {offered, runner};
        evidence.why = fmt::format("a pawn is offered on {}, and the pawn on {} is free to run",
                                   board::name(offered), board::name(runner));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
