#include "rules/unplayable.hpp"

#include "board/san.hpp"
#include "rules/catalogue.hpp"
#include "rules/play.hpp"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

namespace rules {

namespace {

using board::Position;
using board::Role;
using board::San;
using board::Square;

std::vector<std::string> sans_of(const Position& position, const std::vector<board::Move>& moves) {
    std::vector<std::string> texts;
    texts.reserve(moves.size());
    for (const board::Move move : moves) {
        texts.push_back(board::write_san(position, move));
    }
    std::sort(texts.begin(), texts.end());
    return texts;
}

std::vector<board::Move> legal_of(const Position& position) {
    const board::MoveList moves = position.legal_moves();
    return {moves.begin(), moves.end()};
}

std::string without_signs(std::string text) {
    const auto sign = [](char c) { return c == '+' || c == '#' || c == 'x'; };
    text.erase(std::remove_if(text.begin(), text.end(), sign), text.end());
    return text;
}

/// Legal moves whose text comes nearest to what is written; capture and check signs are left out of the
/// comparison.
std::vector<std::string> nearest_moves(const Position& position, std::string_view text) {
    std::vector<std::string> full = sans_of(position, legal_of(position));
    std::vector<std::string> bare;
    std::transform(full.begin(), full.end(), std::back_inserter(bare), without_signs);
    std::vector<std::string> found = nearest(without_signs(std::string(text)), bare);
    for (std::string& san : found) {
        san = full[static_cast<std::size_t>(std::find(bare.begin(), bare.end(), san) - bare.begin())];
    }
    return found;
}

bool own_man_on(const Position& position, Square to) {
    const auto there = position.at(to);
    return there && there->color == position.turn();
}

std::string why_not_castled(const Position& position, board::CastlingSide side) {
    if (!position.castling().has(position.turn(), side)) {
        return fmt::format("{} has no right to castle on the {}'s side", side_name(position.turn()),
                           side == board::CastlingSide::king ? "king" : "queen");
    }
    const Square king = position.king(position.turn());
    const Square rook = position.home().rook(position.turn(), side);
    if ((board::between(king, rook) & position.occupied()).any()) {
        return "men stand between king and rook";
    }
    return position.in_check() ? "a king in check does not castle"
                               : "the king would pass or enter an attacked square";
}

/// The move exists but for the king's safety.
std::string why_barred(const Position& position, const San& san) {
    if (san.role == Role::king) {
        return fmt::format("{} is attacked", board::name(*san.to));
    }
    if (!position.in_check()) {
        return fmt::format("it would leave the king on {} in check",
                           board::name(position.king(position.turn())));
    }
    const Square checker = position.checkers().first();
    return fmt::format("it does not answer the check from the {} on {}",
                       board::name(position.at(checker)->role), board::name(checker));
}

std::string why_illegal(const Position& position, const San& san, const board::SanFailure& failure) {
    if (san.castling) {
        return why_not_castled(position, *san.castling);
    }
    if (!failure.candidates.empty()) {
        return why_barred(position, san);
    }
    const std::optional<Position> other = position.passed();
    if (other && board::resolve(*other, san).ok()) {
        return fmt::format("{} could play it, and {} is to move", side_name(!position.turn()),
                           side_name(position.turn()));
    }
    const std::string to = board::name(*san.to);
    const std::string_view role = board::name(san.role);
    if (own_man_on(position, *san.to)) {
        return fmt::format("a man of the same side stands on {}", to);
    }
    const board::Bitboard men = position.pieces(position.turn(), san.role);
    if (!men.any()) {
        return fmt::format("{} has no {}", side_name(position.turn()), role);
    }
    if (!men.many()) {
        return fmt::format("the {} on {} cannot go to {}", role, board::name(men.first()), to);
    }
    if (san.from_file || san.from_rank) {
        return fmt::format("no {} that stands there can go to {}", role, to);
    }
    return fmt::format("no {} can go to {}", role, to);
}

bool is_coordinate(std::string_view text) {
    return (text.size() == 4 || text.size() == 5) && board::read_square(text.substr(0, 2)) &&
           board::read_square(text.substr(2, 2));
}

/// "g1f5": the man is known by its square, so its own legal moves are what may have been meant.
Unplayable why_not_from(const Position& position, std::string_view text) {
    const Square from = *board::read_square(text.substr(0, 2));
    const auto man = position.at(from);
    if (!man || man->color != position.turn()) {
        return {man ? fmt::format("the {} on {} is not {}'s", board::name(man->role), board::name(from),
                                  side_name(position.turn()))
                    : fmt::format("no man stands on {}", board::name(from)),
                {}};
    }
    std::vector<board::Move> own;
    for (const board::Move move : legal_of(position)) {
        if (move.from() == from) {
            own.push_back(move);
        }
    }
    Unplayable result{fmt::format("the {} on {} cannot go to {}", board::name(man->role), board::name(from),
                                  text.substr(2, 2)),
                      {}};
    if (own.size() <= 3) {
        result.instead = sans_of(position, own);
    }
    return result;
}

Unplayable why_ambiguous(const Position& position, const std::vector<board::Move>& candidates) {
    const bool one_pawn = std::all_of(candidates.begin(), candidates.end(), [&](board::Move candidate) {
        return candidate.is_promotion() && candidate.from() == candidates.front().from();
    });
    if (one_pawn) {
        return {"it does not say what the pawn becomes", {}};
    }
    std::vector<std::string> texts = sans_of(position, candidates);
    return {"it could be " + listed(texts, 4, "or"), std::move(texts)};
}

} // namespace

Unplayable why_not(const Position& position, std::string_view text) {
    const auto san = board::read_san(text);
    if (is_coordinate(text)) {
        return why_not_from(position, text);
    }
    if (!san || (!san->to && !san->castling && !san->null)) {
        return {"it is no move in algebraic notation", nearest_moves(position, text)};
    }
    if (san->null) {
        return {"a pass is no move", {}};
    }
    const auto move = board::resolve(position, *san);
    if (move.ok()) {
        return {};
    }
    if (move.error().fault == board::SanFault::ambiguous) {
        return why_ambiguous(position, move.error().candidates);
    }
    return {why_illegal(position, *san, move.error()), nearest_moves(position, text)};
}

std::string suggestion(const Unplayable& move) {
    if (move.instead.empty()) {
        return {};
    }
    return fmt::format("perhaps {} {} meant", listed(move.instead, move.instead.size(), "or"),
                       move.instead.size() == 1 ? "was" : "were");
}

} // namespace rules
