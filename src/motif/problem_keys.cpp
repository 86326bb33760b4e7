// What kind of key a direct mate in two or more has.

#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Position;

/// Squares the king of the side to move can go to.
Bitboard king_moves(const Position& position) {
    Bitboard squares;
    for (const board::Move move : position.legal_moves()) {
        if (move.from() == position.king(position.turn()) && move.kind() != board::MoveKind::castling) {
            squares |= Bitboard(move.to());
        }
    }
    return squares;
}

Evidence key_evidence(std::string_view motif, Level level, board::Square target, std::string why) {
    return {std::string(motif), 0, level, solve::Certainty::proved, {target}, std::move(why)};
}

void report_threat_or_block(const Study& study, const Position& free, Found& found) {
    const int moves = static_cast<int>((study.plies() - 1) / 2);
    const auto threat = study.solver().reaches(free, study.us(), solve::Aim::mate(moves)).answer;
    const board::Square key = study.move(0).to();
    if (threat == solve::Answer::yes) {
        found.push_back(key_evidence("threat-key", Level::decisive, key,
                                     fmt::format("the key to {} threatens mate", board::name(key))));
    } else if (threat == solve::Answer::no) {
        found.push_back(key_evidence(
            "block-key", Level::decisive, key,
            fmt::format("the key to {} threatens nothing: every reply spoils something", board::name(key))));
    }
}

} // namespace

void detect_keys(const Study& study, Found& found) {
    if (!study.mates() || study.plies() < 3 || study.first() != 0) {
        return;
    }
    const auto free = study.passed(0);
    const bool composed = free && study.mate_forced(0);
    if (composed) {
        report_threat_or_block(study, *free, found);
    }
    if (const auto before = study.at(0).passed()) {
        const Bitboard given = king_moves(study.at(1)) & ~king_moves(*before);
        if (given.any()) {
            found.push_back(
                key_evidence("flight-giving-key", composed ? Level::decisive : Level::seen, given.first(),
                             fmt::format("the key gives the king {}", board::name(given.first()))));
        }
    }
}

} // namespace motif
