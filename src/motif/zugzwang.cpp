#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace motif {
namespace {

using board::Bitboard;
using board::Position;

/// With the move again, would the solver reach what the line reaches, in its time?
solve::Answer threat_reaches(const Study& study, std::size_t ply, const Position& free) {
    if (study.mate_forced(ply)) {
        const int moves = static_cast<int>((study.plies() - ply) / 2);
        return study.solver().reaches(free, study.us(), solve::Aim::mate(moves)).answer;
    }
    const int goal = study.balance(ply + 1) + 1;
    const board::MoveList moves = free.legal_moves();
    const bool threat = std::any_of(moves.begin(), moves.end(), [&](board::Move move) {
        return study.settler().keeps(free.after(move), study.us(), goal, 0);
    });
    return threat ? solve::Answer::yes : solve::Answer::no;
}

/// Were it the solver's move instead, he would spoil his own game: by the tables, or because whatever he
/// plays costs material.
bool spoils_too(const Study& study, std::size_t ply, const Position& free) {
    const auto now = study.result(study.at(ply + 1));
    const auto with_the_move = study.result(free);
    if (now && with_the_move) {
        return *with_the_move < *now;
    }
    const int base = study.balance(ply + 1);
    const board::MoveList moves = free.legal_moves();
    return !study.mates() && std::none_of(moves.begin(), moves.end(), [&](board::Move move) {
        return study.settler().keeps(free.after(move), study.us(), base, 0);
    });
}

/// A pawn ending in which only the solver's search sees the win, and with the move again sees nothing gained
/// at all.
bool search_sees_it(const Study& study, std::size_t ply, const Position& free) {
    const Bitboard pieces =
        free.occupied() & ~free.pieces(board::Role::pawn) & ~free.pieces(board::Role::king);
    const int base = study.balance(0);
    const solve::Aim something = solve::Aim::value(100 * base + 70);
    return pieces.empty() && study.sound(ply, base) &&
           study.solver().reaches(free, study.us(), something).answer == solve::Answer::no;
}

Level level_of(const Study& study, std::size_t ply, const Position& free) {
    const int base = study.balance(ply + 1);
    const bool holds =
        study.mate_forced(ply) || study.settler().keeps(study.at(ply + 1), study.us(), base + 1, 0);
    if (!holds || !study.wins()) {
        const bool seen_late = !study.mates() && study.wins() && search_sees_it(study, ply, free);
        return seen_late ? Level::functional : Level::seen;
    }
    return threat_reaches(study, ply, free) == solve::Answer::no ? Level::decisive : Level::seen;
}

} // namespace

void detect_zugzwang(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const auto free = study.passed(ply);
        if (!free || study.captured(ply) || study.at(ply + 1).count_legal_moves() == 0) {
            continue;
        }
        Evidence evidence;
        evidence.level = level_of(study, ply, *free);
        const bool mutual = evidence.level != Level::seen && spoils_too(study, ply, *free);
        evidence.motif = mutual ? "mutual-zugzwang" : "zugzwang";
        evidence.ply = ply;
        evidence.certainty = study.mate_forced(ply) ? solve::Certainty::proved : solve::Certainty::searched;
        evidence.targets = {study.move(ply).to()};
        evidence.why = fmt::format("after the move to {} {}", board::name(study.move(ply).to()),
                                   mutual ? "whoever is to move spoils his game"
                                          : "the defender could hold if he need not move");
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
