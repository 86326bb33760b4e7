// Is there a last move, and does it agree with the side fields? What a failure is called depends on what
// would mend it.

#include "setup/conditions.hpp"
#include "setup/diagram.hpp"
#include "setup/retract.hpp"

#include "board/position.hpp"

#include <fmt/format.h>

namespace setup {

using board::Bitboard;
using board::CastlingSide;
using board::Color;
using board::Role;
using board::Setup;
using board::Square;

namespace {

/// How far back the deep look goes, and how many positions it may try.
constexpr int deep = 4;
constexpr int deep_budget = 2000;

bool no_past(const Setup& diagram, LastMove kind, int depth) {
    int budget = deep_budget;
    return look_back(diagram, kind, depth, budget) == Past::none;
}

Setup without_ep(const Setup& diagram) {
    Setup other = diagram;
    other.en_passant.reset();
    return other;
}

Setup without_rights(const Setup& diagram, Color color) {
    Setup other = diagram;
    other.castling.remove(color, CastlingSide::king);
    other.castling.remove(color, CastlingSide::queen);
    return other;
}

/// The one smallest set of letters whose loss gives the mover a last move, if there is just one.
std::optional<Setup> fewer_rights(const Setup& diagram, int depth) {
    const Color mover = !diagram.turn;
    std::vector<Setup> mended;
    for (const CastlingSide side : both_sides) {
        Setup other = diagram;
        other.castling.remove(mover, side);
        if (other.castling != diagram.castling && !no_past(other, LastMove::any, depth)) {
            mended.push_back(other);
        }
    }
    if (mended.empty()) {
        return without_rights(diagram, mover);
    }
    return mended.size() == 1 ? std::optional(mended.front()) : std::nullopt;
}

/// Why each man of the side that has moved cannot have moved last, in groups.
std::string excuses(const Setup& diagram) {
    const Color mover = !diagram.turn;
    const Bitboard held = held_by_rights(diagram, mover);
    Bitboard rejected;
    Bitboard into_check;
    for (const Retraction& retraction : candidates(diagram)) {
        const board::Result<Setup, Obstacle> earlier = before(diagram, retraction);
        rejected |= retraction.to;
        if (!earlier && earlier.error() == Obstacle::check) {
            into_check |= retraction.to;
        }
    }
    const Bitboard stuck = diagram.pieces(mover) & ~held & ~rejected;
    const Bitboard impossible = rejected & ~into_check;
    std::vector<std::string> groups;
    if (stuck.any()) {
        groups.push_back(
            fmt::format("no free square to have come from for the {}", men_text(diagram, stuck)));
    }
    if (held.any()) {
        groups.push_back(fmt::format("a castling right on the {}", men_text(diagram, held)));
    }
    if (into_check.any()) {
        groups.push_back(fmt::format("{} already in check before any move of the {}", side_name(diagram.turn),
                                     men_text(diagram, into_check)));
    }
    if (impossible.any()) {
        groups.push_back(
            fmt::format("nothing possible before any move of the {}", men_text(diagram, impossible)));
    }
    return join(groups);
}

Finding nobody_moved(const Setup& diagram) {
    const Color mover = !diagram.turn;
    const Bitboard giving = checkers(diagram, diagram.turn);
    if (giving.empty()) {
        return Contradiction{Rule::no_last_move,
                             "M1",
                             Grade::illegal,
                             fmt::format("{} has moved last, but no {} man can have: {}", side_name(mover),
                                         name(mover), excuses(diagram)),
                             to_squares(diagram.pieces(mover)),
                             {}};
    }
    const Square king = diagram.pieces(diagram.turn, Role::king).first();
    return Contradiction{
        Rule::impossible_check,
        giving.many() ? "T2" : "T3",
        Grade::illegal,
        fmt::format("no single move can have given check to the king on {} from the {}: wherever "
                    "the last man came from, {} was in check already or the way was barred",
                    name(king), men_text(diagram, giving), side_name(diagram.turn)),
        to_squares(giving | king),
        {}};
}

/// The double step that the en-passant square tells of cannot have been the last move, but another can.
Contradiction wrong_double_step(const Setup& diagram) {
    const Color waiting = diagram.turn;
    const Bitboard giving = checkers(diagram, waiting);
    std::string why =
        fmt::format("the last move cannot have been the double step past {}", name(*diagram.en_passant));
    if (giving.any()) {
        why += fmt::format(": it did not give the check from the {}", men_text(diagram, giving));
    } else {
        why += fmt::format(": {} would have been in check before it", side_name(waiting));
    }
    return {Rule::en_passant,   "E3", Grade::field, std::move(why), to_squares(giving | *diagram.en_passant),
            without_ep(diagram)};
}

Contradiction wrong_right(const Setup& diagram, int depth) {
    const Color mover = !diagram.turn;
    return {Rule::castling_rights,
            "M3",
            Grade::field,
            fmt::format("{} has moved last, and it can only have been a king or rook that is said to be "
                        "unmoved ({})",
                        side_name(mover), men_text(diagram, held_by_rights(diagram, mover))),
            to_squares(held_by_rights(diagram, mover)),
            fewer_rights(diagram, depth)};
}

/// The loss of either side's rights would mend it: nobody can say whose are wrong (R5).
Contradiction exclusive_rights(const Setup& diagram) {
    const Bitboard white = held_by_rights(diagram, Color::white);
    const Bitboard black = held_by_rights(diagram, Color::black);
    return {
        Rule::castling_rights,
        "R5",
        Grade::suspicion,
        fmt::format("White and Black cannot both still have the right to castle: one of the last moves was "
                    "that of a king or rook, of White's {} or of Black's {}",
                    men_text(diagram, white), men_text(diagram, black)),
        to_squares(white | black),
        {}};
}

/// What speaks against the diagram a move earlier, in words.
std::string case_against(const Setup& earlier) {
    if (const Finding found = placement(earlier)) {
        return found->why;
    }
    if (const Finding found = promotions_past_pawns(earlier, share_out_nodes)) {
        return found->why;
    }
    return no_past(earlier, LastMove::any, 1)
               ? fmt::format("no {} man can have moved before", name(!earlier.turn))
               : fmt::format("no move of {} before leads back to a diagram that can arise",
                             side_name(!earlier.turn));
}

/// " and a black knight alive again"
std::string taken_back(const Setup& diagram, const Retraction& retraction) {
    return retraction.uncaptured
               ? fmt::format(" and a {} {} alive again", name(diagram.turn), name(*retraction.uncaptured))
               : std::string();
}

/// M2, with the men that can have moved last, and what speaks against one of these moves.
Contradiction no_way_back(const Setup& diagram) {
    Bitboard men;
    std::string example;
    for (const Retraction& retraction : candidates(diagram)) {
        const board::Result<Setup, Obstacle> earlier = before(diagram, retraction);
        if (!earlier) {
            continue;
        }
        men |= retraction.to;
        if (example.empty()) {
            example =
                fmt::format("with the {} back on {}{}, {}", name(earlier->at(retraction.from)->role),
                            name(retraction.from), taken_back(diagram, retraction), case_against(*earlier));
        }
    }
    return {Rule::no_last_move,
            "M2",
            Grade::illegal,
            fmt::format(
                "only the {} can have made the last move of {}, and each way back leads to a diagram that "
                "cannot arise: {}",
                men_text(diagram, men), side_name(!diagram.turn), example),
            to_squares(men),
            {}};
}

/// The diagram has no past of this depth: which field, if any, is to blame?
Finding blame(const Setup& diagram, int depth) {
    if (diagram.en_passant && !no_past(without_ep(diagram), LastMove::any, depth)) {
        return wrong_double_step(diagram);
    }
    const auto mended_without = [&](Color color) {
        return has_any_right(diagram, color) &&
               !no_past(without_rights(diagram, color), LastMove::any, depth);
    };
    if (mended_without(!diagram.turn)) {
        return mended_without(diagram.turn) ? exclusive_rights(diagram) : wrong_right(diagram, depth);
    }
    if (depth == 1) {
        return nobody_moved(without_ep(diagram));
    }
    return no_way_back(diagram);
}

/// The kind of last move that the half-move clock tells of; any when it tells nothing.
LastMove told_by_clock(const Setup& diagram) {
    const bool placeholder = diagram.halfmoves == 0 && diagram.fullmove <= 1;
    const std::int64_t played =
        2 * (std::int64_t{diagram.fullmove} - 1) + (diagram.turn == Color::black ? 1 : 0);
    if (placeholder || diagram.en_passant || diagram.halfmoves < 0 || diagram.halfmoves > played) {
        return LastMove::any;
    }
    return diagram.halfmoves == 0 ? LastMove::zeroing : LastMove::quiet;
}

Contradiction wrong_clock(const Setup& diagram) {
    return {Rule::counters,
            "F1",
            Grade::field,
            fmt::format("the half-move clock says {}, but the last move {} a capture or a pawn move",
                        diagram.halfmoves, diagram.halfmoves == 0 ? "cannot have been" : "must have been"),
            {},
            {}};
}

/// E5: the last move must have been one double step, and the pawn can be taken, but the field does not say
/// so.
Finding unstated_en_passant(const Setup& diagram) {
    const std::optional<Square> passed = diagram.en_passant ? std::nullopt : proved_double_step(diagram);
    if (!passed) {
        return std::nullopt;
    }
    Setup stated = diagram;
    stated.en_passant = passed;
    const auto position = board::Position::from(stated);
    if (!position || !position->en_passant()) {
        return std::nullopt;
    }
    return Contradiction{
        Rule::en_passant,
        "E5",
        Grade::suspicion,
        fmt::format("the last move can only have been the double step past {}, so the pawn can "
                    "be taken en passant",
                    name(*passed)),
        {*passed},
        stated};
}

} // namespace

Finding three_checkers(const Setup& diagram) {
    const Bitboard giving = checkers(diagram, diagram.turn);
    if (giving.count() < 3) {
        return std::nullopt;
    }
    const Square king = diagram.pieces(diagram.turn, Role::king).first();
    return Contradiction{Rule::impossible_check,
                         "T1",
                         Grade::illegal,
                         fmt::format("no move gives check to the king on {} from {} men at once: the {}",
                                     name(king), giving.count(), men_text(diagram, giving)),
                         to_squares(giving | king),
                         {}};
}

std::optional<Square> proved_double_step(const Setup& diagram) {
    if (!no_past(diagram, LastMove::not_a_double_step, 1)) {
        return std::nullopt;
    }
    std::optional<Square> passed;
    for (const Retraction& retraction : candidates(diagram)) {
        if (!before(diagram, retraction)) {
            continue;
        }
        if (passed) {
            return std::nullopt;
        }
        passed = board::square_at((index(retraction.from) + index(retraction.to)) / 2);
    }
    return passed;
}

Finding no_last_move(const Setup& diagram) {
    return no_past(diagram, LastMove::any, 1) ? blame(diagram, 1) : std::nullopt;
}

Finding earlier_moves(const Setup& diagram) {
    // A last move of the kind the clock tells of settles both questions at once.
    const LastMove told = told_by_clock(diagram);
    if (!no_past(diagram, told, deep)) {
        return unstated_en_passant(diagram);
    }
    if (told != LastMove::any && !no_past(diagram, LastMove::any, deep)) {
        return wrong_clock(diagram);
    }
    return blame(diagram, deep);
}

} // namespace setup
