// Kings, pawn ranks, the side not to move in check, and counting men: everything linear in the board.

#include "setup/conditions.hpp"
#include "setup/diagram.hpp"

#include "board/attacks.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace setup {

using board::Bitboard;
using board::Color;
using board::Role;
using board::Setup;

namespace {

constexpr int original_officers(Role role) {
    return role == Role::queen ? 1 : 2;
}

int surplus(const Setup& diagram, Color color, Role role) {
    return std::max(0, diagram.pieces(color, role).count() - original_officers(role));
}

/// The second bishop on one colour of square is promoted, however few bishops there are.
int surplus_bishops(const Setup& diagram, Color color) {
    const Bitboard bishops = diagram.pieces(color, Role::bishop);
    return std::max(0, (bishops & board::light_squares).count() - 1) +
           std::max(0, (bishops & board::dark_squares).count() - 1);
}

int surplus_others(const Setup& diagram, Color color) {
    return surplus(diagram, color, Role::queen) + surplus(diagram, color, Role::rook) +
           surplus(diagram, color, Role::knight);
}

Finding too_many(std::string code, std::string why, Bitboard squares) {
    return Contradiction{Rule::too_many_pieces, std::move(code),     Grade::illegal,
                         std::move(why),        to_squares(squares), {}};
}

std::string missing_pawns(int count) {
    return count == 0   ? std::string("no pawn is")
           : count == 1 ? std::string("only 1 pawn is")
                        : fmt::format("only {} pawns are", count);
}

} // namespace

Bitboard swollen_groups(const Setup& diagram, Color color) {
    Bitboard groups;
    for (const Role role : {Role::queen, Role::rook, Role::knight}) {
        if (surplus(diagram, color, role) > 0) {
            groups |= diagram.pieces(color, role);
        }
    }
    for (const Bitboard shade : {board::light_squares, board::dark_squares}) {
        const Bitboard bishops = diagram.pieces(color, Role::bishop) & shade;
        if (bishops.many()) {
            groups |= bishops;
        }
    }
    return groups;
}

void find_king_faults(const Setup& diagram, std::vector<Contradiction>& found) {
    for (const Color color : both_colors) {
        const Bitboard kings = diagram.pieces(color, Role::king);
        if (kings.count() != 1) {
            std::string why = kings.empty() ? fmt::format("{} has no king", side_name(color))
                                            : fmt::format("{} has {} kings, on {}", side_name(color),
                                                          kings.count(), squares_text(kings));
            found.push_back({Rule::kings, "K1", Grade::illegal, std::move(why), to_squares(kings), {}});
        }
    }
    const Bitboard white = diagram.pieces(Color::white, Role::king);
    const Bitboard black = diagram.pieces(Color::black, Role::king);
    for (const board::Square king : white) {
        const Bitboard beside = board::king_attacks(king) & black;
        if (beside.any()) {
            found.push_back(
                {Rule::kings,
                 "K2",
                 Grade::illegal,
                 fmt::format("the kings on {} and {} stand side by side", name(king), squares_text(beside)),
                 to_squares(beside | king),
                 {}});
        }
    }
}

Finding pawn_on_last_rank(const Setup& diagram) {
    const Bitboard pawns = diagram.by_role[index(Role::pawn)] & (board::rank_bits(0) | board::rank_bits(7));
    if (pawns.empty()) {
        return std::nullopt;
    }
    return Contradiction{Rule::pawn_ranks,
                         "P1",
                         Grade::illegal,
                         fmt::format("no pawn can stand on the first or eighth rank, but there {} on {}",
                                     pawns.many() ? "are pawns" : "is a pawn", squares_text(pawns)),
                         to_squares(pawns),
                         {}};
}

Finding opponent_in_check(const Setup& diagram) {
    const Color waiting = !diagram.turn;
    const Bitboard attacking = checkers(diagram, waiting);
    if (attacking.empty()) {
        return std::nullopt;
    }
    const board::Square king = diagram.pieces(waiting, Role::king).first();
    std::string why =
        fmt::format("it is {}'s move, but the {} king on {} is in check from the {}", side_name(diagram.turn),
                    name(waiting), name(king), men_text(diagram, attacking));
    if (diagram.pieces(diagram.turn, Role::king).any() && checkers(diagram, diagram.turn).any()) {
        why += fmt::format(", and {} is in check as well", side_name(diagram.turn));
    }
    return Contradiction{Rule::opponent_in_check,      "C1", Grade::illegal, std::move(why),
                         to_squares(attacking | king), {}};
}

int promotions_shown(const Setup& diagram, Color color) {
    return surplus_others(diagram, color) + surplus_bishops(diagram, color);
}

bool men_fit(const Setup& diagram, Color color) {
    const int pawns = diagram.pieces(color, Role::pawn).count();
    return diagram.pieces(color).count() <= 16 && promotions_shown(diagram, color) <= 8 - pawns;
}

Finding too_many_men(const Setup& diagram, Color color) {
    const Bitboard men = diagram.pieces(color);
    const Bitboard pawns = diagram.pieces(color, Role::pawn);
    if (pawns.count() > 8) {
        return too_many("N1",
                        fmt::format("{} has {} pawns, on {}; no side ever has more than 8", side_name(color),
                                    pawns.count(), squares_text(pawns)),
                        pawns);
    }
    if (men.count() > 16) {
        return too_many(
            "N1", fmt::format("{} has {} men; no side ever has more than 16", side_name(color), men.count()),
            men);
    }
    const int promoted = promotions_shown(diagram, color);
    const int missing = 8 - pawns.count();
    if (promoted <= missing) {
        return std::nullopt;
    }
    const bool by_bishops = surplus_others(diagram, color) <= missing;
    const Bitboard groups = swollen_groups(diagram, color);
    return too_many(by_bishops ? "N3" : "N2",
                    fmt::format("of {}'s {} at least {} must be promoted{}, but {} missing", side_name(color),
                                men_text(diagram, groups), promoted,
                                by_bishops ? " (an original bishop keeps its colour of square)" : "",
                                missing_pawns(missing)),
                    groups);
}

Finding promotions_without_captures(const Setup& diagram) {
    const int captures = 32 - diagram.occupied().count();
    const int pawns = diagram.by_role[index(Role::pawn)].count();
    const int least = promotions_shown(diagram, Color::white) + promotions_shown(diagram, Color::black);
    // A capture sets free at most the capturer, the pawn that faced it, and the pawn that faced its victim.
    for (int promoted = least; promoted <= 16 - pawns; ++promoted) {
        const int taken = 16 - pawns - promoted;
        if (taken <= captures && promoted <= 2 * captures + taken) {
            return std::nullopt;
        }
    }
    const Bitboard groups = swollen_groups(diagram, Color::white) | swollen_groups(diagram, Color::black);
    return too_many("N4",
                    fmt::format("at least {} must be promoted ({}), but with {} a pawn cannot have got "
                                "past the one that faced it so often",
                                count_text(least, "officer"), men_text(diagram, groups),
                                captures == 0 ? "nothing captured" : count_text(captures, "capture")),
                    groups);
}

} // namespace setup
