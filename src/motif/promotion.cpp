#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Move;
using board::Position;
using board::Role;

Evidence evidence_at(const Study& study, std::size_t ply, std::string_view motif) {
    Evidence evidence;
    evidence.motif = motif;
    evidence.ply = ply;
    evidence.targets = {study.move(ply).to()};
    evidence.certainty = solve::Certainty::searched;
    return evidence;
}

/// The queen instead is no mate, stalemates, or the solver gets less from her.
bool queen_falls_short(const Study& study, std::size_t ply) {
    const Move move = study.move(ply);
    const Position queen = study.at(ply).after(Move::promotion(move.from(), move.to(), Role::queen));
    const Position& minor = study.at(ply + 1);
    if (minor.is_checkmate() || queen.is_checkmate() || queen.is_stalemate()) {
        return !queen.is_checkmate();
    }
    const bool small_search = study.forced(ply + 1) - study.settler().worst_reply(queen, study.us()) >= 1;
    if (small_search) {
        return true;
    }
    const solve::Judgement real = study.solver().value(minor, study.us());
    const solve::Judgement other = study.solver().value(queen, study.us());
    const auto worth = [](const solve::Value& value) {
        return value.mate_in ? (*value.mate_in > 0 ? 100000 : -100000) : value.score;
    };
    const bool known = real.certainty != solve::Certainty::open && other.certainty != solve::Certainty::open;
    return known && worth(real.value) - worth(other.value) >= 100;
}

} // namespace

void detect_promotion(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const Move move = study.move(ply);
        const bool promotes = move.is_promotion();
        if (!promotes &&
            (study.mover(ply) != Role::pawn || board::relative_rank(study.us(), move.to()) != 6)) {
            continue;
        }
        Evidence evidence = evidence_at(study, ply, "promotion");
        const bool stays =
            study.at(ply + 1).is_checkmate() || study.settled(ply + 1) - study.balance(ply) >= 1;
        if (promotes && stays) {
            evidence.level = Level::decisive; // lift the pawn and there is no such move
        }
        evidence.why = promotes ? fmt::format("the pawn becomes a {} on {}", board::name(move.promotes_to()),
                                              board::name(move.to()))
                                : fmt::format("the pawn on {} threatens to promote", board::name(move.to()));
        found.push_back(std::move(evidence));
    }
}

void detect_underpromotion(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const Move move = study.move(ply);
        if (!move.is_promotion() || move.promotes_to() == Role::queen) {
            continue;
        }
        Evidence evidence = evidence_at(study, ply, "underpromotion");
        evidence.level = queen_falls_short(study, ply) ? Level::decisive : Level::seen;
        evidence.why = fmt::format("the pawn becomes a {} on {}, where a queen {}",
                                   board::name(move.promotes_to()), board::name(move.to()),
                                   evidence.level == Level::seen ? "would do as well" : "would not do");
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
