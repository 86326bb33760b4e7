// The fields beside the placement: castling letters, en-passant square, counters, and the turn where tempo
// tells it.

#include "setup/conditions.hpp"
#include "setup/diagram.hpp"

#include <fmt/format.h>

#include <cstdint>

namespace setup {

using board::Bitboard;
using board::CastlingSide;
using board::Color;
using board::Role;
using board::Setup;
using board::Square;

namespace {

/// The three squares a double step touches, for the side that has just moved.
struct DoubleStep {
    Square start;
    Square passed;
    Square pawn;
};

DoubleStep double_step(Color mover, Square passed) {
    const int forward = mover == Color::white ? 8 : -8;
    return {board::square_at(index(passed) - forward), passed, board::square_at(index(passed) + forward)};
}

bool can_have_been_played(const Setup& diagram, Color mover) {
    const Square passed = *diagram.en_passant;
    if (relative_rank(mover, passed) != 2) {
        return false;
    }
    const DoubleStep step = double_step(mover, passed);
    return !diagram.occupied().contains(step.start) && !diagram.occupied().contains(step.passed) &&
           diagram.pieces(mover, Role::pawn).contains(step.pawn);
}

Contradiction wrong_square(const Setup& diagram, std::string code, std::string why) {
    Setup repaired = diagram;
    repaired.en_passant.reset();
    return {Rule::en_passant, std::move(code), Grade::field, std::move(why), {*diagram.en_passant}, repaired};
}

Contradiction counter(std::string code, Grade grade, std::string why) {
    return {Rule::counters, std::move(code), grade, std::move(why), {}, {}};
}

bool only_knights_can_have_moved(const Setup& diagram) {
    return !diagram.home.is_shuffled() && diagram.pieces(Color::white).count() == 16 &&
           diagram.pieces(Color::black).count() == 16 &&
           diagram.pieces(Color::white, Role::pawn) == board::rank_bits(1) &&
           diagram.pieces(Color::black, Role::pawn) == board::rank_bits(6) && diagram.castling.bits() == 15;
}

} // namespace

Finding rights_without_men(const Setup& diagram) {
    Setup repaired = diagram;
    Bitboard squares;
    std::string letters;
    std::vector<std::string> missing;
    const auto need = [&](Color color, Role role, Square square) {
        if (!diagram.pieces(color, role).contains(square) && !squares.contains(square)) {
            squares |= square;
            missing.push_back(fmt::format("a {} {} on {}", name(color), name(role), name(square)));
        }
    };
    for (const Color color : both_colors) {
        for (const CastlingSide side : both_sides) {
            const Square king = diagram.home.king(color);
            const Square rook = diagram.home.rook(color, side);
            const bool at_home = diagram.pieces(color, Role::king).contains(king) &&
                                 diagram.pieces(color, Role::rook).contains(rook);
            if (!diagram.castling.has(color, side) || at_home) {
                continue;
            }
            need(color, Role::king, king);
            need(color, Role::rook, rook);
            repaired.castling.remove(color, side);
            letters += board::letter({color, side == CastlingSide::king ? Role::king : Role::queen});
        }
    }
    if (letters.empty()) {
        return std::nullopt;
    }
    return Contradiction{Rule::castling_rights,
                         "R1",
                         Grade::field,
                         fmt::format("castling {} takes {}, and there {} none", letters, join(missing),
                                     missing.size() == 1 ? "is" : "are"),
                         to_squares(squares),
                         repaired};
}

Finding en_passant_square(const Setup& diagram) {
    if (!diagram.en_passant) {
        return std::nullopt;
    }
    const Color mover = !diagram.turn;
    const Square passed = *diagram.en_passant;
    if (relative_rank(mover, passed) != 2) {
        Contradiction found = wrong_square(
            diagram, "E1",
            fmt::format("{} to move cannot capture en passant on {}: {} pawns pass over the {} rank",
                        side_name(diagram.turn), name(passed), name(mover),
                        mover == Color::white ? "third" : "sixth"));
        // The square may be right and the side to move wrong: then there is no single repair to offer.
        if (can_have_been_played(diagram, diagram.turn)) {
            found.repaired.reset();
        }
        return found;
    }
    if (can_have_been_played(diagram, mover)) {
        return std::nullopt;
    }
    const DoubleStep step = double_step(mover, passed);
    const Bitboard in_the_way = diagram.occupied() & (Bitboard(step.start) | step.passed);
    return wrong_square(diagram, "E2",
                        in_the_way.any()
                            ? fmt::format("no pawn can just have passed {}: {} is occupied", name(passed),
                                          squares_text(in_the_way))
                            : fmt::format("no pawn can just have passed {}: there is no {} pawn on {}",
                                          name(passed), name(mover), name(step.pawn)));
}

void find_clock_faults(const Setup& diagram, std::vector<Contradiction>& found) {
    const int half = diagram.halfmoves;
    const int full = diagram.fullmove;
    // In 64 bits: the counters are whatever a stranger wrote.
    const std::int64_t played = 2 * (std::int64_t{full} - 1) + (diagram.turn == Color::black ? 1 : 0);
    std::string why;
    if (full < 1) {
        why = fmt::format("the move number is {}, but moves are counted from 1", full);
    } else if (half > played) {
        why = fmt::format("{} without capture or pawn move cannot have been played before move {}",
                          count_text(half, "half-move"), full);
    } else if (half < 0) {
        why = fmt::format("the half-move clock is {}", half);
    }
    if (!why.empty()) {
        found.push_back(counter("F1", Grade::field, std::move(why)));
        // At move 1 there is only one thing the pair can have been meant for.
        if (full <= 1) {
            found.back().repaired = diagram;
            found.back().repaired->halfmoves = 0;
            found.back().repaired->fullmove = 1;
        }
    }
    if (diagram.en_passant && half > 0) {
        found.push_back(
            counter("E4", Grade::field,
                    fmt::format("a pawn has just passed {}, but the half-move clock says {}, not 0",
                                name(*diagram.en_passant), half)));
        found.back().squares = {*diagram.en_passant};
    }
    if (half >= 100) {
        found.push_back(counter("F2", Grade::suspicion,
                                half >= 150 ? fmt::format("the game is drawn: {} half-moves without capture "
                                                          "or pawn move",
                                                          half)
                                            : fmt::format("a draw can be claimed: {} half-moves without "
                                                          "capture or pawn move",
                                                          half)));
    }
}

Finding turn_against_tempo(const Setup& diagram) {
    if (!only_knights_can_have_moved(diagram)) {
        return std::nullopt;
    }
    // A knight changes the colour of its square with every move; each side starts with one knight on a light
    // square.
    const auto odd_moves = [&](Color color) {
        return (diagram.pieces(color, Role::knight) & board::light_squares).count() != 1;
    };
    const Color turn = odd_moves(Color::white) == odd_moves(Color::black) ? Color::white : Color::black;
    if (turn == diagram.turn) {
        return std::nullopt;
    }
    return Contradiction{
        Rule::counters,
        "B1",
        Grade::field,
        fmt::format(
            "only the knights ({}) can have moved, White's an {} and Black's an {} number of times, so "
            "it is {}'s move",
            squares_text(diagram.by_role[index(Role::knight)]), odd_moves(Color::white) ? "odd" : "even",
            odd_moves(Color::black) ? "odd" : "even", side_name(turn)),
        to_squares(diagram.by_role[index(Role::knight)]),
        flipped(diagram)};
}

} // namespace setup
