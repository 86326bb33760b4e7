#include "brute.hpp"

namespace solve_test {

bool mates(board::Position& position, int moves) {
    if (moves == 0) {
        return false;
    }
    for (const board::Move move : position.legal_moves()) {
        const auto undo = position.make(move);
        const bool works = is_lost(position, moves - 1);
        position.unmake(move, undo);
        if (works) {
            return true;
        }
    }
    return false;
}

bool is_lost(board::Position& position, int moves) {
    if (!position.has_legal_move()) {
        return position.in_check();
    }
    if (moves == 0) {
        return false;
    }
    for (const board::Move move : position.legal_moves()) {
        const auto undo = position.make(move);
        const bool lost = mates(position, moves);
        position.unmake(move, undo);
        if (!lost) {
            return false;
        }
    }
    return true;
}

std::optional<int> shortest_mate(board::Position position, int limit) {
    for (int moves = 1; moves <= limit; ++moves) {
        if (mates(position, moves)) {
            return moves;
        }
    }
    return std::nullopt;
}

std::vector<board::Move> mating_moves(board::Position position, int moves) {
    std::vector<board::Move> found;
    for (const board::Move move : position.legal_moves()) {
        const auto undo = position.make(move);
        if (is_lost(position, moves - 1)) {
            found.push_back(move);
        }
        position.unmake(move, undo);
    }
    return found;
}

} // namespace solve_test
