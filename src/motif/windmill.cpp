#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace motif {
namespace {

using board::Square;

struct Windmill {
    std::size_t discoveries = 0;
    std::size_t captures = 0;
    bool forced = true; ///< the defender had one legal reply each time but the last
    std::vector<Square> taken;
};

bool moved_man_checks(const Study& study, std::size_t ply) {
    return study.at(ply + 1).checkers().contains(study.move(ply).to());
}

bool discovers_check(const Study& study, std::size_t ply) {
    return study.gives_check(ply) && !moved_man_checks(study, ply) && !study.castles(ply);
}

/// Check by uncovering at `ply`, back with check, uncovered again: as long as the line does it.
Windmill windmill_from(const Study& study, std::size_t ply) {
    Windmill mill;
    for (std::size_t now = ply; study.has(now) && discovers_check(study, now); now += 4) {
        ++mill.discoveries;
        if (study.captured(now)) {
            ++mill.captures;
            mill.taken.push_back(study.move(now).to());
        }
        const bool returns = study.has(now + 2) && study.move(now + 2).from() == study.move(now).to() &&
                             study.move(now + 2).to() == study.move(now).from() &&
                             moved_man_checks(study, now + 2);
        if (!returns) {
            break;
        }
        mill.forced = mill.forced && study.at(now + 1).count_legal_moves() == 1;
        if (study.has(now + 4) && study.move(now + 4).from() != study.move(now + 2).to()) {
            break;
        }
    }
    return mill;
}

} // namespace

void detect_windmill(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const Windmill mill = windmill_from(study, ply);
        if (mill.discoveries < 2) {
            continue;
        }
        Evidence evidence;
        evidence.motif = "windmill";
        evidence.ply = ply;
        const bool collects = mill.captures >= 2 && mill.forced;
        if (collects && study.wins() && study.sound(ply, study.balance(ply))) {
            evidence.level = Level::functional;
        }
        evidence.certainty = solve::Certainty::searched;
        evidence.targets = mill.taken;
        evidence.targets.push_back(study.move(ply).from());
        std::vector<std::string> squares;
        for (const Square square : mill.taken) {
            squares.push_back(board::name(square));
        }
        evidence.why =
            fmt::format("the {} gives check by uncovering and comes back with check{}",
                        man(study.at(ply), study.move(ply).from()),
                        squares.empty() ? "" : fmt::format(", taking on {}", fmt::join(squares, " and ")));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
