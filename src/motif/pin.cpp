#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Position;
using board::Role;
using board::Square;

struct Pin {
    Square pinner;
    Square pinned;
    Square screened; ///< the man behind, the king for an absolute pin
};

/// Would the man behind fall to the pinner's side once the pinned one has gone?
bool falls_behind(const Position& position, const Pin& pin) {
    const auto open = without(position, pin.pinned);
    return open && worth_of(position, pin.screened) > worth_of(position, pin.pinned) &&
           loss_on(*open, pin.screened) > 0;
}

std::vector<Pin> pins_in(const Position& position, board::Color us) {
    std::vector<Pin> pins;
    const Square king = position.king(!us);
    for (const Square pinner : line_men(position, us)) {
        for (const Square pinned : attacks_from(position, pinner) & position.pieces(!us)) {
            const auto screened = behind(position, pinner, pinned);
            if (!screened || !position.pieces(!us).contains(*screened)) {
                continue;
            }
            const Pin pin{pinner, pinned, *screened};
            if (*screened == king || (pinned != king && falls_behind(position, pin))) {
                pins.push_back(pin);
            }
        }
    }
    return pins;
}

/// Where the pinned man falls: at once, or later in the line on the square on which it was pinned all along
/// or on which it took the pinner.
std::optional<std::size_t> fall_of(const Study& study, std::size_t ply, const Pin& pin) {
    if (const auto soon = study.taken(pin.pinned, ply + 1, ply + 2)) {
        return soon;
    }
    const auto late = study.taken(pin.pinned, ply + 1, study.plies());
    if (!late) {
        return std::nullopt;
    }
    const board::Move capture = study.move(*late);
    const bool stayed = capture.to() == pin.pinned && capture.from() == pin.pinner;
    const bool took = capture.to() == pin.pinner && study.move(ply + 1).to() == pin.pinner;
    return stayed || took ? late : std::nullopt;
}

/// The pinned man falls because it cannot leave, or leaves and the dearer man falls; or the line ends with
/// the pin, and one of them is lost.
Level level_of(const Study& study, std::size_t ply, const Pin& pin) {
    const Position& position = study.at(ply + 1);
    const bool absolute = pin.screened == position.king(study.them());
    const int base = study.base_of(ply);
    const auto capture = fall_of(study, ply, pin);
    const auto behind_falls = absolute ? std::nullopt : study.taken(pin.screened, ply + 1, ply + 2);
    // It stays and falls, or takes a cheaper pinner and is retaken.
    const bool retaken = capture && study.move(*capture).to() == pin.pinner &&
                         worth_of(position, pin.pinned) > worth_of(position, pin.pinner);
    const bool stayed = capture && (study.move(*capture).to() == pin.pinned || retaken);
    const bool ends_here = study.plies() <= ply + 2;
    if ((!stayed && !behind_falls && !ends_here) || position.at(pin.pinned)->role == Role::pawn) {
        return Level::seen;
    }
    const bool falls = stayed || behind_falls;
    const std::size_t end = stayed ? *capture + 1 : ply + 3;
    const int gain = falls ? study.kept(end) - base : study.forced(ply + 1) - base;
    // What hung before has not fallen to the pin, unless the pin stood already and held it there.
    const Square came_from = study.move(ply).to() == pin.pinner ? study.move(ply).from() : pin.pinner;
    const bool stood = pinner_of(study.at(ply), pin.pinned) == came_from;
    const int before =
        stood ? 0 : solve::exchange_gain(study.at(ply), behind_falls ? pin.screened : pin.pinned, study.us());
    if (gain < 1 || before >= gain || !could_escape(position, pin.pinned) || !study.sound(ply, base)) {
        return Level::seen;
    }
    // Drop-test: the king cannot be lifted off, but then could_escape() is the very thing the pin forbids.
    const auto altered = absolute ? std::nullopt : without(position, pin.screened);
    const bool needed = absolute || (altered && study.worse_in(*altered, ply + 1));
    if (!falls) {
        return needed && loss_on(position, pin.pinned) > 0 ? Level::functional : Level::seen;
    }
    return needed ? Level::decisive : Level::functional;
}

} // namespace

void detect_pin(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const Position& position = study.at(ply + 1);
        for (const Pin& pin : pins_in(position, study.us())) {
            Evidence evidence;
            const bool absolute = pin.screened == position.king(study.them());
            evidence.motif = absolute ? "absolute-pin" : "relative-pin";
            evidence.ply = ply;
            evidence.level = level_of(study, ply, pin);
            evidence.certainty =
                evidence.level == Level::seen ? solve::Certainty::proved : solve::Certainty::searched;
            evidence.targets = {pin.pinned, pin.screened};
            evidence.why = fmt::format("the {} pins the {} to the {}", man(position, pin.pinner),
                                       man(position, pin.pinned), man(position, pin.screened));
            found.push_back(std::move(evidence));
        }
    }
}

} // namespace motif
