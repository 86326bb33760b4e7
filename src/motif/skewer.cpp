#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Position;
using board::Square;

struct Skewer {
    Square unit;
    Square front;
    Square rear;
};

bool is_skewer(const Position& position, const Skewer& skewer) {
    const int front = worth_of(position, skewer.front);
    const int rear = worth_of(position, skewer.rear);
    const bool royal = position.pieces(board::Role::king).contains(skewer.front);
    if (position.pieces(board::Role::king).contains(skewer.rear) || front < rear * !royal) {
        return false;
    }
    if (!royal && front == rear && loss_on(position, skewer.front) <= 0) {
        return false;
    }
    const Bitboard open = position.occupied() & ~Bitboard(skewer.front);
    const board::Color owner = position.at(skewer.rear)->color;
    const Bitboard guards = position.attackers(skewer.rear, owner, open) & ~Bitboard(skewer.front);
    return rear > worth_of(position, skewer.unit) || guards.empty();
}

/// Skewers that the move `ply` made.
std::vector<Skewer> skewers_after(const Study& study, std::size_t ply) {
    std::vector<Skewer> skewers;
    const Position& position = study.at(ply + 1);
    const Square moved = study.move(ply).to();
    for (const Square unit : line_men(position, study.us())) {
        const Square was = unit == moved ? study.move(ply).from() : unit;
        const Bitboard before = attacks_from(study.at(ply), was);
        for (const Square front : attacks_from(position, unit) & position.pieces(study.them()) & ~before) {
            const auto rear = behind(position, unit, front);
            if (rear && position.pieces(study.them()).contains(*rear) &&
                is_skewer(position, {unit, front, *rear})) {
                skewers.push_back({unit, front, *rear});
            }
        }
    }
    return skewers;
}

Level level_of(const Study& study, std::size_t ply, const Skewer& skewer) {
    const Position& position = study.at(ply + 1);
    const int base = study.base_of(ply);
    const auto rear_falls = study.taken(skewer.rear, ply + 1, ply + 4);
    const auto front_falls = study.taken(skewer.front, ply + 1, ply + 2);
    const bool ends_here = study.plies() <= ply + 2;
    const bool moved = study.has(ply + 1) && study.move(ply + 1).from() == skewer.front;
    const auto capture = rear_falls && moved ? rear_falls : front_falls;
    const int gain = capture ? study.kept(*capture + 1) - base : 0;
    const bool taken = study.has(ply + 1) && study.move(ply + 1).to() == skewer.unit;
    const bool pawn = position.at(skewer.rear)->role == board::Role::pawn; // picked up, not skewered
    if (taken || pawn || position.is_checkmate() || (!capture && !ends_here) || (capture && gain < 1) ||
        !study.sound(ply, base)) {
        return Level::seen;
    }
    const auto altered = without(position, skewer.rear);
    if (altered && study.worse_in(*altered, ply + 1)) {
        return capture ? Level::decisive : Level::functional;
    }
    return capture && capture == rear_falls ? Level::functional : Level::seen;
}

} // namespace

void detect_skewer(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const Position& position = study.at(ply + 1);
        for (const Skewer& skewer : skewers_after(study, ply)) {
            Evidence evidence;
            evidence.motif = "skewer";
            evidence.ply = ply;
            evidence.level = level_of(study, ply, skewer);
            evidence.certainty = solve::Certainty::searched;
            evidence.targets = {skewer.front, skewer.rear};
            evidence.why =
                fmt::format("the {} attacks the {}, and behind it the {}", man(position, skewer.unit),
                            man(position, skewer.front), man(position, skewer.rear));
            also_called(evidence, "x-ray", found);
            found.push_back(std::move(evidence));
        }
    }
}

} // namespace motif
