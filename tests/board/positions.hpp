#pragma once
// Short ways to a position and to a fixed walk of random moves.

#include "from_text.hpp"

#include <random>
#include <string>

namespace board_test {

using from_text::move;
using from_text::position;

/// Starting points that reach castling, pins, promotions and en passant early.
inline const std::vector<std::string>& starts() {
    static const std::vector<std::string> fens{
        "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
        "r3k2r/1pp2ppp/8/p2pP3/Pb1n1B1q/2N5/1PPP1PPP/R3K2R w KQkq d6 0 9",
        "8/1P4p1/k5r1/8/1pP4K/5r2/6p1/1N6 b - c3 0 40",
        "8/PPPPP1k1/8/8/8/8/1K1ppppp/8 w - - 0 1",
        "r1k1r2q/p1ppp1pp/8/8/8/8/P1PPP1PP/R1K1R2Q w EAea - 0 1",
        "1rkr4/pppppppp/8/8/8/8/PPPPPPPP/1RKR4 w DBdb - 0 1",
        "5rkr/pp3ppp/8/8/8/8/PP3PPP/5RKR w HFhf - 0 1",
        "q2k2q1/2nqn2b/1n1P1n1b/2rnr2Q/1NQ1QN1Q/3Q3B/2RQR2B/Q2K2Q1 w - - 0 1",
    };
    return fens;
}

/// Calls `visit(position)` along random games: the same ones on every machine.
template <class Visit> void walk(int games, int plies, Visit visit) {
    std::mt19937_64 random(20240229);
    for (int game = 0; game < games; ++game) {
        board::Position current = position(starts()[static_cast<std::size_t>(game) % starts().size()]);
        for (int ply = 0; ply < plies; ++ply) {
            visit(current);
            const board::MoveList moves = current.legal_moves();
            if (moves.empty()) {
                break;
            }
            current.make(moves[random() % moves.size()]);
        }
    }
}

} // namespace board_test
