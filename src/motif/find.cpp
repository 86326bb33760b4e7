#include "motif/names.hpp"
#include "motif/study.hpp"

#include <algorithm>

namespace motif {
namespace {

/// The same ply says the same under a more special name, with evidence at least as strong.
bool covered(const Evidence& general, const std::vector<Evidence>& all) {
    return std::any_of(all.begin(), all.end(), [&](const Evidence& special) {
        return special.ply == general.ply && special.motif != general.motif &&
               special.level >= general.level && supports(special.motif, general.motif);
    });
}

/// Strongest evidence first, the earliest of equals.
bool stronger(const Evidence& a, const Evidence& b) {
    return a.level != b.level ? a.level > b.level : a.ply < b.ply;
}

/// The wider reading that it needs is the one to go by.
bool taken(const Evidence& evidence, const Wide& wide) {
    return std::any_of(wide.begin(), wide.end(),
                       [&](const std::string& motif) { return supports(evidence.motif, motif); });
}

/// What only decorates, or never names a puzzle, stays incidental; of the rest the most telling are main.
void set_strengths(std::vector<Evidence>& found) {
    Weight most = Weight::helping;
    for (const Evidence& evidence : found) {
        most = evidence.level == Level::seen ? most : std::max(most, weight_of(evidence.motif));
    }
    for (Evidence& evidence : found) {
        const Weight weight = weight_of(evidence.motif);
        const bool counts = evidence.level != Level::seen && weight != Weight::aside;
        evidence.strength = !counts          ? Strength::incidental
                            : weight == most ? Strength::main
                                             : Strength::supporting;
    }
}

} // namespace

std::vector<Evidence> find(const SolutionLine& line, solve::Solver& solver, const Wide& wide) {
    const Study study(line, solver);
    std::vector<Evidence> all;
    for (const Detector& detector : detectors()) {
        detector.detect(study, all);
    }
    std::erase_if(all, [&](const Evidence& evidence) { return evidence.wider && !taken(evidence, wide); });
    std::stable_sort(all.begin(), all.end(), stronger);
    std::vector<Evidence> kept;
    for (const Evidence& evidence : all) {
        const bool known = std::any_of(kept.begin(), kept.end(),
                                       [&](const Evidence& other) { return other.motif == evidence.motif; });
        if (!known && !covered(evidence, all)) {
            kept.push_back(evidence);
        }
    }
    std::sort(kept.begin(), kept.end(), [](const Evidence& a, const Evidence& b) {
        return a.ply != b.ply ? a.ply < b.ply : a.motif < b.motif;
    });
    set_strengths(kept);
    return kept;
}

} // namespace motif
