#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

/// The man's next move after `ply`, if it takes it back to where it came from.
std::optional<std::size_t> return_of(const Study& study, std::size_t ply) {
    for (std::size_t later = ply + 2; study.has(later); later += 2) {
        if (study.follow(study.move(ply).to(), ply + 1, later) == study.move(later).from()) {
            const bool back = study.move(later).to() == study.move(ply).from();
            return back ? std::optional(later) : std::nullopt;
        }
    }
    return std::nullopt;
}

/// From at(from) on the same diagram comes twice.
bool repeats(const Study& study, std::size_t from) {
    for (std::size_t n = from; n <= study.plies(); ++n) {
        for (std::size_t later = n + 1; later <= study.plies(); ++later) {
            if (same_placement(study.at(n), study.at(later))) {
                return true;
            }
        }
    }
    return false;
}

} // namespace

void detect_switchback(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply + 2); ply += 2) {
        const auto back = return_of(study, ply);
        if (!back || study.castles(ply)) {
            continue;
        }
        Evidence evidence;
        evidence.motif = "switchback";
        evidence.ply = ply;
        if (!repeats(study, ply) && study.wins() && study.sound(ply, study.balance(ply))) {
            evidence.level = Level::functional;
        }
        evidence.certainty = solve::Certainty::searched;
        evidence.targets = {study.move(ply).from(), study.move(ply).to()};
        evidence.why =
            fmt::format("the {} goes to {} and comes back", man(study.at(ply), study.move(ply).from()),
                        board::name(study.move(ply).to()));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
