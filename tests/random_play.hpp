#pragma once
// Positions that real play reaches: random legal games from the initial array, the same on every machine.

#include "board/position.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <random>

namespace random_play {

/// What a game is drawn to. Moves drawn evenly empty the board soon; most conditions need a full one.
enum class Style : std::uint8_t { even, shy_of_captures, castles_early, pushes_pawns, takes_with_pawns };
inline constexpr std::array all_styles{Style::even, Style::shy_of_captures, Style::castles_early,
                                       Style::pushes_pawns, Style::takes_with_pawns};

inline bool is_to_the_taste(const board::Position& position, board::Move move, Style style) {
    const auto man = position.at(move.from());
    switch (style) {
    case Style::even:
        return true;
    case Style::shy_of_captures:
        return !position.is_capture(move);
    case Style::castles_early:
        return move.kind() == board::MoveKind::castling ||
               (man->role != board::Role::king && man->role != board::Role::rook);
    case Style::pushes_pawns:
        return man->role == board::Role::pawn;
    case Style::takes_with_pawns: // many promotions for few captures
        return man->role == board::Role::pawn ||
               (!position.is_capture(move) && position.legal_captures().empty());
    }
    return true;
}

/// Seven times of eight a move to the taste, if there is one.
inline board::Move draw(const board::Position& position, Style style, std::mt19937_64& random) {
    const board::MoveList moves = position.legal_moves();
    std::array<board::Move, 512> liked;
    std::size_t count = 0;
    for (const board::Move move : moves) {
        if (count < liked.size() && is_to_the_taste(position, move, style)) {
            liked[count++] = move;
        }
    }
    return count > 0 && random() % 8 != 0 ? liked[random() % count] : moves[random() % moves.size()];
}

/// Calls `visit(position)` for `plies` positions of games from `start`; a game ends with mate, stalemate or
/// after 200 plies.
template <class Visit>
void walk(std::uint64_t plies, std::uint64_t seed, const board::Position& start, Visit visit) {
    std::mt19937_64 random(seed);
    std::size_t game = 0;
    while (plies > 0) {
        board::Position position = start;
        const Style style = all_styles[game++ % all_styles.size()];
        for (int ply = 0; ply < 200 && plies > 0; ++ply, --plies) {
            visit(position);
            if (!position.has_legal_move()) {
                break;
            }
            position.make(draw(position, style, random));
        }
    }
}

template <class Visit> void walk(std::uint64_t plies, std::uint64_t seed, Visit visit) {
    walk(plies, seed, board::Position(), visit);
}

} // namespace random_play
