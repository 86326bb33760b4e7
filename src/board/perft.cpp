#include "board/perft.hpp"

namespace board {

std::uint64_t perft(Position& position, int depth) {
    if (depth <= 1) {
        return depth < 1 ? 1 : position.count_legal_moves();
    }
    std::uint64_t leaves = 0;
    for (const Move move : position.legal_moves()) {
        const Position::Undo undo = position.make(move);
        leaves += perft(position, depth - 1);
        position.unmake(move, undo);
    }
    return leaves;
}

std::uint64_t perft_made(Position& position, int depth) {
    if (depth < 1) {
        return 1;
    }
    std::uint64_t leaves = 0;
    for (const Move move : position.legal_moves()) {
        const Position::Undo undo = position.make(move);
        leaves += perft_made(position, depth - 1);
        position.unmake(move, undo);
    }
    return leaves;
}

} // namespace board
