#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace motif {
namespace {

using board::Move;
using board::Square;

/// The capture the solver makes one move later than he could have; nothing when the line has none.
std::optional<Square> postponed_capture(const Study& study, std::size_t ply) {
    if (!study.has(ply + 2) || !study.captured(ply + 2)) {
        return std::nullopt;
    }
    const Square square = square_taken(study.move(ply + 2));
    if (study.move(ply + 1).to() == square || square_taken(study.move(ply)) == square) {
        return std::nullopt;
    }
    return square;
}

/// The man to be taken has just captured.
bool arrived(const Study& study, std::size_t ply, Square square) {
    return study.captured_before(ply) == square;
}

/// Later in the line only a man that has just captured is expected to be taken; in the diagram, where the
/// move before may not be known, any that could be taken with profit.
bool expected(const Study& study, std::size_t ply, Square square) {
    return arrived(study, ply, square) ||
           (ply == 0 && solve::exchange_gain(study.at(ply), square, study.us()) > 0);
}

/// A sacrifice is no insertion (unless a recapture is known to be due), nor is an order of captures (unless
/// the first comes with check).
bool inserted_move(const Study& study, std::size_t ply, Square postponed) {
    const bool offer = !arrived(study, ply, postponed) &&
                       study.captured_worth(ply + 1) > study.captured_worth(ply) &&
                       study.move(ply + 1).to() == study.move(ply).to();
    return !offer && (!study.captured(ply) || study.gives_check(ply));
}

std::vector<Move> captures_on(const board::Position& position, Square square) {
    std::vector<Move> captures;
    for (const Move move : position.legal_captures()) {
        if (square_taken(move) == square) {
            captures.push_back(move);
        }
    }
    return captures;
}

/// What the solver keeps if he captures at once, with the best man; nothing when no capture was legal.
std::optional<int> value_at_once(const Study& study, std::size_t ply, Square square) {
    std::optional<int> best;
    for (const Move move : captures_on(study.at(ply), square)) {
        const int value = study.settler().worst_reply(study.at(ply).after(move), study.us());
        best = std::max(best.value_or(value), value);
    }
    return best;
}

/// By the solver's search the line wins, and no capture at once does.
bool only_later(const Study& study, std::size_t ply, Square square) {
    const int base = study.balance(ply);
    const std::vector<Move> captures = captures_on(study.at(ply), square);
    return study.sound(ply, base) && std::all_of(captures.begin(), captures.end(), [&](Move move) {
               return study.fails_to_win(study.at(ply).after(move), base);
           });
}

/// A check, or a move that threatens more than the postponed capture.
bool carries_threat(const Study& study, std::size_t ply, Square postponed) {
    if (study.gives_check(ply)) {
        return true;
    }
    const auto free = study.passed(ply);
    const int waiting = solve::exchange_gain(study.at(ply + 1), postponed, study.us());
    return free && study.settler().settle(*free, study.us()) - study.balance(ply + 1) > waiting;
}

} // namespace

void detect_zwischenzug(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const auto square = postponed_capture(study, ply);
        const auto at_once = square ? value_at_once(study, ply, *square) : std::nullopt;
        if (!at_once) {
            continue;
        }
        const bool threat = carries_threat(study, ply, *square);
        if (!threat && !arrived(study, ply, *square)) {
            continue;
        }
        const Square arrival = study.move(ply).to();
        const bool check = study.gives_check(ply);
        const bool pawn = study.captured_worth(ply + 2) < 3;
        const int inserted = std::min(study.forced(ply + 1), study.settled(ply + 3));
        const int better = inserted - *at_once;
        Evidence evidence;
        evidence.motif = check ? "in-between-check" : "zwischenzug";
        evidence.ply = ply;
        const bool inserts = threat && expected(study, ply, *square) && inserted_move(study, ply, *square) &&
                             !pawn && !study.at(ply + 3).is_checkmate();
        if (inserts && better >= 1 && inserted - study.balance(ply) >= 1) {
            evidence.level = better >= 2 ? Level::decisive : Level::functional;
        } else if (inserts && only_later(study, ply, *square)) {
            evidence.level = Level::functional;
        }
        evidence.certainty = solve::Certainty::searched;
        evidence.targets = {*square};
        evidence.why = fmt::format("the {} could be taken at once; {} comes first",
                                   man(study.at(ply), *square), board::name(arrival));
        found.push_back(std::move(evidence));
    }
}

} // namespace motif
