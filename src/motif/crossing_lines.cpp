// Grimshaw and Novotny: lines of a rook and a bishop of the defender cross, and whichever man comes to the
// crossing shuts off the other. Proved on the board: each half is a mate that the other man would else stop.

#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace motif {
namespace {

using board::Bitboard;
using board::Move;
using board::Position;
using board::Role;
using board::Square;

bool rook_and_bishop(const Position& position, Square a, Square b) {
    const auto role = [&](Square square) { return position.at(square)->role; };
    return (role(a) == Role::rook && role(b) == Role::bishop) ||
           (role(a) == Role::bishop && role(b) == Role::rook);
}

/// In the mate, with the man on the crossing lifted, only the man on `other` has an answer.
bool other_would_answer(const Position& mate, Square crossing, Square other) {
    const auto open = without(mate, crossing);
    if (!open) {
        return false;
    }
    const board::MoveList replies = open->legal_moves();
    return !replies.empty() &&
           std::all_of(replies.begin(), replies.end(), [&](Move reply) { return reply.from() == other; });
}

/// After the defender's `reply` to the crossing, can the solver mate because the man on `other` is shut off?
bool shutting_mate(const Position& position, Move reply, Square other) {
    const Position shut = position.after(reply);
    for (const Move move : shut.legal_moves()) {
        if (!shut.gives_check(move)) {
            continue;
        }
        const Position after = shut.after(move);
        if (after.is_checkmate() && other_would_answer(after, reply.to(), other)) {
            return true;
        }
    }
    return false;
}

struct Crossing {
    Square square;
    Square came; ///< the man that came to the crossing in the line, where it stood
    Square other;
    bool mutual; ///< there would be a mate, too, had the other man come
};

/// The last reply of a line that mates, if the mate is due to a rook's and a bishop's crossing lines; those
/// that shut off each other first.
std::optional<Crossing> crossing_of(const Study& study) {
    const std::size_t reply = study.plies() - 2;
    const Position& position = study.at(reply);
    const Move came = study.move(reply);
    std::optional<Crossing> one_sided;
    for (const Square other : line_men(position, study.them()) & ~Bitboard(came.from())) {
        const Move instead = Move::normal(other, came.to());
        if (!rook_and_bishop(position, came.from(), other) || !position.is_legal(instead) ||
            !other_would_answer(study.last(), came.to(), other)) {
            continue;
        }
        if (shutting_mate(position, instead, came.from())) {
            return Crossing{came.to(), came.from(), other, true};
        }
        one_sided = Crossing{came.to(), came.from(), other, false};
    }
    return one_sided;
}

} // namespace

void detect_crossing_lines(const Study& study, Found& found) {
    if (!study.mates() || study.plies() < 3) {
        return;
    }
    const std::size_t reply = study.plies() - 2;
    const Position& position = study.at(reply);
    const bool taken = study.captured(reply).has_value();
    const bool given = reply > study.first() && study.move(reply).to() == study.move(reply - 1).to();
    if (!line_men(position, study.them()).contains(study.move(reply).from()) || (taken && !given)) {
        return;
    }
    const auto crossing = crossing_of(study);
    if (!crossing || (taken && !crossing->mutual)) {
        return;
    }
    Evidence evidence;
    evidence.wider = !crossing->mutual;
    evidence.motif = taken ? "novotny" : "grimshaw";
    evidence.ply = reply - 1;
    // In a try, or in set play, other replies are not answered; these two are.
    evidence.level = study.mate_forced(reply - 1) ? Level::decisive : Level::functional;
    evidence.targets = {crossing->square, crossing->came, crossing->other};
    const std::string came = man(position, crossing->came);
    const std::string other = man(position, crossing->other);
    const std::string square = board::name(crossing->square);
    evidence.why = crossing->mutual ? fmt::format("the {} and the {} shut each other off on {}{}", came,
                                                  other, square, taken ? ", the square the solver gives" : "")
                                    : fmt::format("the {} shuts the {} off on {}", came, other, square);
    found.push_back(std::move(evidence));
}

} // namespace motif
