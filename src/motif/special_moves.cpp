#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Position;
using board::Role;
using board::Square;

/// The ply at which the pawn promotes in the line, from ply `from` on.
std::optional<std::size_t> promotes_at(const Study& study, Square pawn, std::size_t from) {
    for (std::size_t ply = from; study.has(ply); ++ply) {
        if (study.move(ply).from() == pawn) {
            if (study.move(ply).is_promotion()) {
                return ply;
            }
            pawn = study.move(ply).to();
        } else if (study.captured(ply) && square_taken(study.move(ply)) == pawn) {
            return std::nullopt;
        }
    }
    return std::nullopt;
}

Evidence evidence_at(std::string_view motif, std::size_t ply, Level level, Square target, std::string why) {
    return {std::string(motif), ply, level, solve::Certainty::searched, {target}, std::move(why)};
}

/// The line wins, and no other move does as well.
bool needed(const Study& study, std::size_t ply) {
    return study.wins() && study.sound(ply, study.balance(ply)) &&
           (study.only_move(ply) || study.only_winner(ply));
}

} // namespace

void detect_advanced_passed_pawn(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const Position& position = study.at(ply);
        for (const Square pawn : position.pieces(study.us(), Role::pawn)) {
            if (board::relative_rank(study.us(), pawn) < 5 || !is_passed(position, pawn, study.us())) {
                continue;
            }
            const auto promotion = promotes_at(study, pawn, ply);
            const bool moves = study.move(ply).from() == pawn;
            const bool stays = promotion && (study.at(*promotion + 1).is_checkmate() ||
                                             study.settled(*promotion + 1) - study.balance(*promotion) >= 1);
            if (!promotion && !moves) {
                continue; // a bystander
            }
            const bool counts = stays && study.wins() && study.sound(ply, study.balance(ply));
            found.push_back(evidence_at("advanced-passed-pawn", ply, counts ? Level::functional : Level::seen,
                                        pawn,
                                        fmt::format("no pawn can stop the pawn on {}", board::name(pawn))));
        }
    }
}

void detect_castling(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        if (study.castles(ply)) {
            const bool counts = needed(study, ply);
            found.push_back(evidence_at("castling", ply, counts ? Level::functional : Level::seen,
                                        study.move(ply).to(), "the solver castles"));
        }
    }
}

void detect_en_passant(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        if (study.move(ply).kind() == board::MoveKind::en_passant) {
            const bool counts = needed(study, ply);
            found.push_back(evidence_at("en-passant", ply, counts ? Level::functional : Level::seen,
                                        study.move(ply).to(), "the solver captures en passant"));
        }
    }
}

} // namespace motif
