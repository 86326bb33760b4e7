#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace motif {
namespace {

using board::Move;
using board::Position;
using board::Role;
using board::Square;

/// On one rank, file or diagonal with an odd number of squares between.
bool kings_opposed(const Position& position) {
    const Square a = position.king(board::Color::white);
    const Square b = position.king(board::Color::black);
    return board::line_through(a, b).any() && board::distance(a, b) % 2 == 0;
}

bool bare_of_pieces(const Position& position) {
    return (position.pieces(Role::king) | position.pieces(Role::pawn)) == position.occupied();
}

/// By the tables, every other move of the solver ends worse.
bool only_result(const Study& study, std::size_t ply) {
    const auto kept = study.result(study.at(ply + 1));
    const board::MoveList moves = study.at(ply).legal_moves();
    return kept && std::all_of(moves.begin(), moves.end(), [&](Move other) {
               return other == study.move(ply) || study.result(study.at(ply).after(other)) < kept;
           });
}

std::string_view kind_of(const Position& position) {
    const Square a = position.king(board::Color::white);
    const Square b = position.king(board::Color::black);
    const bool diagonal = board::file_of(a) != board::file_of(b) && board::rank_of(a) != board::rank_of(b);
    return diagonal ? "diagonal opposition" : board::distance(a, b) > 2 ? "distant opposition" : "opposition";
}

} // namespace

void detect_opposition(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const Position& position = study.at(ply + 1);
        if (study.mover(ply) != Role::king || !kings_opposed(position) || !bare_of_pieces(position)) {
            continue;
        }
        Evidence evidence;
        evidence.motif = "opposition";
        evidence.ply = ply;
        evidence.level = only_result(study, ply) ? Level::decisive : Level::seen;
        evidence.targets = {position.king(study.us()), position.king(study.them())};
        evidence.why = fmt::format("the king on {} takes the {} against the king on {}",
                                   board::name(evidence.targets[0]), kind_of(position),
                                   board::name(evidence.targets[1]));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
