// Two men on one line, in both senses of the word: the front one strikes along the line with the rear one's
// support (players), or leaves it and uncovers the rear one (problem lovers).

#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Position;
using board::Square;

struct Battery {
    Square rear;
    Square target; ///< where the front man strikes, or the king uncovered
    bool along;    ///< players' sense
};

std::optional<Battery> battery_of(const Study& study, std::size_t ply, Square rear) {
    const Position& before = study.at(ply);
    const Position& after = study.at(ply + 1);
    const board::Move move = study.move(ply);
    if (!attacks_from(before, rear).contains(move.from())) {
        return std::nullopt;
    }
    const bool along = board::line_through(rear, move.from()).contains(move.to());
    const bool line_man = line_men(before, study.us()).contains(move.from());
    if (along && line_man && attacks_from(after, rear).contains(move.to()) &&
        (study.captured(ply) || study.gives_check(ply))) {
        return Battery{rear, move.to(), true};
    }
    if (!along && after.checkers().contains(rear)) {
        return Battery{rear, after.king(study.them()), false};
    }
    return std::nullopt;
}

Level level_of(const Study& study, std::size_t ply, const Battery& battery) {
    if (!study.wins() || !study.sound(ply, study.balance(ply))) {
        return Level::seen;
    }
    // Drop-test: without the man behind, the stroke brings less.
    const auto alone = without(study.at(ply + 1), battery.rear);
    return alone && study.worse_in(*alone, ply + 1) ? Level::decisive : Level::seen;
}

} // namespace

void detect_battery(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        if (study.castles(ply)) {
            continue;
        }
        for (const Square rear : line_men(study.at(ply), study.us()) & ~Bitboard(study.move(ply).from())) {
            const auto battery = battery_of(study, ply, rear);
            if (!battery) {
                continue;
            }
            Evidence evidence;
            evidence.motif = "battery";
            evidence.ply = ply;
            evidence.level = level_of(study, ply, *battery);
            evidence.certainty = solve::Certainty::searched;
            evidence.targets = {rear, battery->target};
            const std::string front = man(study.at(ply), study.move(ply).from());
            const std::string behind_it = man(study.at(ply), rear);
            evidence.why = battery->along
                               ? fmt::format("the {} strikes on {} with the {} behind it", front,
                                             board::name(battery->target), behind_it)
                               : fmt::format("the {} fires the battery with the {}", front, behind_it);
            found.push_back(std::move(evidence));
        }
    }
}

} // namespace motif
