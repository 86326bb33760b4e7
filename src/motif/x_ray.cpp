#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Position;
using board::Square;

struct Ray {
    Square rear;    ///< the solver's line piece
    Square through; ///< the only man between, the defender's
};

/// Line pieces that act on `square` through one man of the other side.
std::vector<Ray> rays_to(const Position& position, Square square, board::Color us) {
    std::vector<Ray> rays;
    for (const Square rear : line_men(position, us)) {
        const Bitboard men = board::between(rear, square) & position.occupied();
        if (men.any() && !men.many() && position.pieces(!us).contains(men.first()) &&
            attacks_from(position, rear, men).contains(square)) {
            rays.push_back({rear, men.first()});
        }
    }
    return rays;
}

/// The man in between takes on the square, and the rear piece takes it there.
Level level_of(const Study& study, std::size_t ply, const Ray& ray) {
    if (!study.has(ply + 2)) {
        return Level::seen;
    }
    const Square square = study.move(ply).to();
    const bool gone = study.move(ply + 1).from() == ray.through;
    const bool acts = study.move(ply + 2).from() == ray.rear && study.move(ply + 2).to() == square;
    const int base = study.balance(ply);
    if (!gone || !acts || study.settled(ply + 3) - base < 1 || !study.sound(ply, base)) {
        return Level::seen;
    }
    const auto altered = without(study.at(ply + 1), ray.rear);
    return altered && study.worse_in(*altered, ply + 1) ? Level::decisive : Level::functional;
}

} // namespace

void detect_x_ray(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const Square square = study.move(ply).to();
        for (const Ray& ray : rays_to(study.at(ply), square, study.us())) {
            if (ray.rear == study.move(ply).from()) {
                continue;
            }
            Evidence evidence;
            evidence.motif = "x-ray";
            evidence.ply = ply;
            evidence.level = level_of(study, ply, ray);
            evidence.certainty = solve::Certainty::searched;
            evidence.targets = {square};
            evidence.why = fmt::format("the {} acts on {} through the {}", man(study.at(ply), ray.rear),
                                       board::name(square), man(study.at(ply), ray.through));
            found.push_back(std::move(evidence));
        }
    }
}

} // namespace motif
