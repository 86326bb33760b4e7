#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Position;
using board::Square;

struct Discovery {
    Square opener; ///< where the unit that left the line stands now
    Square rear;   ///< the line piece behind it
    Square target;
};

std::vector<Discovery> discoveries_of(const Study& study, std::size_t ply) {
    std::vector<Discovery> found;
    const Position& position = study.at(ply + 1);
    const board::Move move = study.move(ply);
    Bitboard vacated(move.from());
    if (move.kind() == board::MoveKind::en_passant) {
        vacated |= Bitboard(square_taken(move));
    }
    for (const Square rear : line_men(position, study.us()) & ~Bitboard(move.to())) {
        const Bitboard fresh = attacks_from(position, rear) & ~attacks_from(study.at(ply), rear);
        for (const Square target : fresh& position.pieces(study.them())) {
            if ((board::between(rear, target) & vacated).any()) {
                found.push_back({move.to(), rear, target});
            }
        }
    }
    return found;
}

/// The opener took something and was taken for it; what the uncovered line wins makes up for that.
bool exchanged_for_free(const Study& study, std::size_t ply, std::size_t capture) {
    const int base = study.balance(ply);
    return study.captured(ply) && study.captured(ply + 1) &&
           study.move(ply + 1).to() == study.move(ply).to() && study.settled(capture + 1) - base >= 1 &&
           study.sound(ply, base);
}

/// What the uncovered attack brings: the target falls, or the opener profits while the defender saves it.
Level level_of_attack(const Study& study, std::size_t ply, const Discovery& discovery) {
    const Position& position = study.at(ply + 1);
    const int base = study.balance(ply + 1);
    auto capture = study.taken(discovery.target, ply + 1, ply + 4);
    if (!capture && study.has(ply + 2) && study.move(ply + 2).from() == discovery.opener &&
        study.captured(ply + 2) &&
        attacks_from(position, discovery.opener).contains(study.move(ply + 2).to())) {
        capture = ply + 2;
    }
    const bool ends_here = study.plies() <= ply + 2;
    const int gain = capture ? study.settled(*capture + 1) - base : 0;
    const int before = solve::exchange_gain(study.at(ply), discovery.target, study.us());
    const auto altered = without(position, discovery.rear);
    if (capture && gain < 1 && exchanged_for_free(study, ply, *capture)) {
        return altered && study.worse_in(*altered, ply + 1) ? Level::decisive : Level::seen;
    }
    if ((!capture && !ends_here) || (capture && (gain < 1 || before >= gain)) || !study.sound(ply, base)) {
        return Level::seen;
    }
    if (altered && study.worse_in(*altered, ply + 1)) {
        return capture ? Level::decisive : Level::functional;
    }
    return capture ? Level::functional : Level::seen;
}

/// The man uncovered mates at once on the square it now strikes.
bool mates_along_line(const Study& study, std::size_t ply, const Discovery& discovery) {
    return study.has(ply + 2) && study.move(ply + 2).from() == discovery.rear &&
           study.move(ply + 2).to() == discovery.target && study.at(ply + 3).is_checkmate() &&
           study.sound(ply, study.balance(ply));
}

void report_attack(const Study& study, std::size_t ply, const Discovery& discovery, Found& found) {
    const Position& position = study.at(ply + 1);
    const bool dearer = worth_of(position, discovery.target) > worth_of(position, discovery.rear);
    const bool hit = dearer || loss_on(position, discovery.target) > 0;
    Evidence evidence;
    evidence.motif = "discovered-attack";
    evidence.ply = ply;
    const bool pawn = position.at(discovery.target)->role == board::Role::pawn;
    evidence.level = mates_along_line(study, ply, discovery) ? Level::functional
                     : pawn || !hit                          ? Level::seen
                                                             : level_of_attack(study, ply, discovery);
    evidence.certainty = solve::Certainty::searched;
    evidence.targets = {discovery.target};
    evidence.why =
        fmt::format("the {} uncovers the attack of the {} on the {}", man(position, discovery.opener),
                    man(position, discovery.rear), man(position, discovery.target));
    found.push_back(std::move(evidence));
}

/// The move made without the check, were it the defender's free turn, would bring less.
bool check_needed(const Study& study, std::size_t ply, Square checker) {
    const auto altered = without(study.at(ply + 1), checker);
    return altered && study.worse_in(*altered, ply + 1);
}

void report_check(const Study& study, std::size_t ply, const Discovery& discovery, Found& found) {
    const Position& position = study.at(ply + 1);
    Evidence evidence;
    evidence.motif = "discovered-check";
    evidence.ply = ply;
    evidence.targets = {discovery.target};
    const bool ends_here = study.plies() <= ply + 2;
    const auto profit = [&](std::size_t until) { return study.settled(until) - study.balance(ply) >= 1; };
    const bool gains = ends_here || profit(std::min(ply + 5, study.plies()));
    if (study.wins() && gains && study.sound(ply, study.balance(ply))) {
        evidence.level = check_needed(study, ply, discovery.rear) ? Level::decisive : Level::functional;
        evidence.certainty = study.mate_forced(ply) ? solve::Certainty::proved : solve::Certainty::searched;
    }
    evidence.why = fmt::format("the {} uncovers the check of the {}", man(position, discovery.opener),
                               man(position, discovery.rear));
    found.push_back(std::move(evidence));
}

void report_double(const Study& study, std::size_t ply, Found& found) {
    const Position& position = study.at(ply + 1);
    Evidence evidence;
    evidence.motif = "double-check";
    evidence.ply = ply;
    evidence.targets = {position.king(study.them())};
    bool both_needed = true;
    for (const Square checker : position.checkers()) {
        evidence.why += fmt::format("{}the {}", evidence.why.empty() ? "" : " and ", man(position, checker));
        const auto altered = without(position, checker);
        both_needed = both_needed && altered && study.worse_in(*altered, ply + 1);
    }
    evidence.why += " give check at once";
    if (study.wins()) {
        evidence.level = both_needed ? Level::decisive : Level::functional;
    }
    found.push_back(std::move(evidence));
}

} // namespace

void detect_discovery(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const Position& position = study.at(ply + 1);
        if (position.checkers().many()) {
            report_double(study, ply, found);
        }
        if (study.castles(ply)) {
            continue;
        }
        for (const Discovery& discovery : discoveries_of(study, ply)) {
            if (discovery.target != position.king(study.them())) {
                report_attack(study, ply, discovery, found);
            } else if (!position.checkers().many()) {
                report_check(study, ply, discovery, found);
            }
        }
    }
}

} // namespace motif
