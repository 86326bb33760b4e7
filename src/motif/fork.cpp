#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace motif {
namespace {

using board::Bitboard;
using board::Position;
using board::Role;
using board::Square;

struct Fork {
    Square unit;
    Role role;
    Bitboard targets; ///< the king, men dearer than the unit, men that hang
    Bitboard fresh;   ///< of these, the ones it did not attack before its move
};

Fork fork_after(const Study& study, std::size_t ply) {
    const Position& position = study.at(ply + 1);
    const Square unit = study.move(ply).to();
    Fork fork{unit, position.at(unit)->role, {}, {}};
    const Bitboard before = attacks_from(study.at(ply), study.move(ply).from());
    for (const Square target : attacks_from(position, unit) & position.pieces(study.them())) {
        const Role role = position.at(target)->role;
        const bool dearer = fork.role != Role::king && board::value_of(role) > board::value_of(fork.role);
        if (role == Role::king || dearer || loss_on(position, target) > 0) {
            fork.targets |= Bitboard(target);
            fork.fresh |= before.contains(target) ? Bitboard() : Bitboard(target);
        }
    }
    return fork;
}

/// The most specific name of the family.
std::string_view name_of(const Position& position, const Fork& fork) {
    if (fork.role == Role::pawn) {
        return "pawn-fork";
    }
    if (fork.role != Role::knight) {
        return "fork";
    }
    int royal = 0;
    int heavy = 0;
    for (const Square target : fork.targets) {
        const Role role = position.at(target)->role;
        royal += role == Role::king || role == Role::queen;
        heavy += role == Role::king || role == Role::queen || role == Role::rook;
    }
    return heavy >= 3 ? "family-fork" : royal == 2 ? "royal-fork" : "knight-fork";
}

/// Without the other targets, would the man on `prey` be saved?
bool others_needed(const Study& study, std::size_t ply, const Fork& fork, Square prey) {
    const Position& position = study.at(ply + 1);
    if (position.in_check()) { // the king cannot be lifted off: ask what the check keeps the prey from
        return could_escape(position, prey);
    }
    std::optional<Position> altered = position;
    for (const Square other : fork.targets) {
        if (altered && other != prey) {
            altered = without(*altered, other);
        }
    }
    return altered && study.worse_in(*altered, ply + 1);
}

/// Where the prey falls; nothing when it falls for another reason: to a mating move elsewhere, having stepped
/// into the check, or with the forking unit gone (but the prey may take that unit and be retaken).
std::optional<std::size_t> fall_of(const Study& study, std::size_t ply, const Fork& fork, Square prey) {
    const auto capture = study.taken(prey, ply + 1, ply + 4);
    if (!capture) {
        return std::nullopt;
    }
    const board::Move reply = study.move(ply + 1);
    const bool in_place = study.move(*capture).to() == prey && reply.from() != prey;
    if (study.at(*capture + 1).is_checkmate() && !in_place) {
        return std::nullopt;
    }
    const Square king = study.at(ply + 1).king(study.them());
    const bool steps_in = reply.from() == prey && study.gives_check(ply) &&
                          board::between(fork.unit, king).contains(reply.to());
    const bool unit_gone = reply.to() == fork.unit && reply.from() != prey;
    return steps_in || unit_gone ? std::nullopt : capture;
}

/// The defender could not do better than take the forking unit with a dearer man, which is retaken.
bool bought_off(const Study& study, std::size_t ply, const Fork& fork) {
    return study.has(ply + 2) && study.captured(ply + 1) && study.move(ply + 1).to() == fork.unit &&
           study.captured(ply + 2) && study.move(ply + 2).to() == fork.unit &&
           study.captured_worth(ply + 2) > study.captured_worth(ply + 1);
}

/// Does this target fall, and through the fork?
Level level_for(const Study& study, std::size_t ply, const Fork& fork, Square prey) {
    const int base = study.base_of(ply);
    const auto falls = fall_of(study, ply, fork, prey);
    const auto capture = !falls && bought_off(study, ply, fork) ? std::optional(ply + 2) : falls;
    const bool ends_here = study.plies() == ply + 1;
    if (capture) {
        const int gain = study.kept(*capture + 1) - base;
        const int before = solve::exchange_gain(study.at(ply), prey, study.us());
        if (gain < 1 || before >= gain) {
            return Level::seen;
        }
    }
    if ((!capture && !ends_here) || !study.sound(ply, base)) {
        return Level::seen;
    }
    const bool needed = others_needed(study, ply, fork, prey);
    if (capture) {
        return needed ? Level::decisive : Level::functional;
    }
    return needed ? Level::functional : Level::seen;
}

Level level_of(const Study& study, std::size_t ply, const Fork& fork) {
    const Position& position = study.at(ply + 1);
    const Bitboard pieces = fork.targets & ~position.pieces(Role::pawn); // a pawn is picked up, not forked
    if (!pieces.many() || fork.fresh.empty() || position.is_checkmate()) {
        return Level::seen;
    }
    Level level = Level::seen;
    for (const Square prey : pieces & ~position.pieces(Role::king)) {
        level = std::max(level, level_for(study, ply, fork, prey));
    }
    return level;
}

} // namespace

void detect_fork(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        if (study.castles(ply)) {
            continue;
        }
        const Fork fork = fork_after(study, ply);
        if (!fork.targets.many()) {
            continue;
        }
        const Position& position = study.at(ply + 1);
        Evidence evidence;
        evidence.motif = name_of(position, fork);
        evidence.ply = ply;
        evidence.level = level_of(study, ply, fork);
        evidence.certainty = solve::Certainty::searched;
        evidence.why = fmt::format("the {} attacks", man(position, fork.unit));
        for (const Square target : fork.targets) {
            evidence.why +=
                fmt::format("{} the {}", evidence.targets.empty() ? "" : " and", man(position, target));
            evidence.targets.push_back(target);
        }
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
