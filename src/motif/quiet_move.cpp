#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

bool forcing(const Study& study, std::size_t ply) {
    return study.gives_check(ply) || study.captured(ply) || study.move(ply).is_promotion();
}

/// In a line that mates: another move of the solver is forcing. In one that wins: his move before was, and no
/// pawn or king race is on.
bool forcing_context(const Study& study, std::size_t quiet) {
    if (!study.mates()) {
        const board::Role role = study.mover(quiet);
        return quiet >= 2 && forcing(study, quiet - 2) && role != board::Role::pawn &&
               role != board::Role::king;
    }
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        if (ply != quiet && forcing(study, ply)) {
            return true;
        }
    }
    return false;
}

/// A threat to take what now stands loose or dearer is a plain attack, not the stillness the word means.
bool attacks_at_once(const Study& study, std::size_t ply) {
    const auto free = study.passed(ply);
    for (const board::Square square : study.at(ply + 1).pieces(study.them())) {
        if (free && loss_on(*free, square) > solve::exchange_gain(study.at(ply), square, study.us())) {
            return true;
        }
    }
    return false;
}

} // namespace

void detect_quiet_move(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        if (forcing(study, ply)) {
            continue;
        }
        Evidence evidence;
        evidence.motif = "quiet-move";
        evidence.ply = ply;
        evidence.targets = {study.move(ply).to()};
        const bool context = study.has(ply + 2) && forcing_context(study, ply);
        const bool free = !study.at(ply).in_check(); // who must answer a check has no choice of being quiet
        const bool counts = free && (study.mates() ? study.mate_forced(ply) : study.wins());
        evidence.certainty = study.mates() ? solve::Certainty::proved : solve::Certainty::searched;
        evidence.why = fmt::format("the move to {} is neither check nor capture nor promotion",
                                   board::name(study.move(ply).to()));
        const bool only = context && counts && study.only_move(ply);
        const bool begins = ply == 0 || forcing(study, ply - 2);
        if (only || (counts && begins && study.only_winner(ply))) {
            Evidence working = evidence;
            working.level = study.mates() ? Level::decisive : Level::functional;
            working.wider = !study.mates() && attacks_at_once(study, ply);
            found.push_back(std::move(working));
        }
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
