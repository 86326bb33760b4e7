#include "motif/settle.hpp"

#include "solve/solver.hpp"

#include <algorithm>
#include <vector>

namespace motif {
namespace {

using board::Move;
using board::Position;
using board::Role;

constexpr int depth_limit = 12;
constexpr int single_limit = 1500;  // one position
constexpr int keeps_limit = 100000; // one keeps()
constexpr int infinity = 10000;

/// Captured man plus what a promotion adds.
int worth(const Position& position, Move move) {
    const auto taken = position.captured(move);
    const int added = move.is_promotion() ? board::value_of(move.promotes_to()) - 1 : 0;
    return (taken ? board::value_of(*taken) : 0) + added;
}

/// In check every move, else captures and promotions to a queen, at the first ply checks too; dearest first.
std::vector<Move> candidates(const Position& position, int ply) {
    std::vector<Move> moves;
    const bool everything = position.in_check();
    for (const Move move : everything || ply == 0 ? position.legal_moves() : position.legal_captures()) {
        const bool minor = move.is_promotion() && move.promotes_to() != Role::queen;
        const bool loud = !minor && (position.is_capture(move) || move.is_promotion());
        if (everything || loud || (ply == 0 && position.gives_check(move))) {
            moves.push_back(move);
        }
    }
    std::stable_sort(moves.begin(), moves.end(),
                     [&](Move a, Move b) { return worth(position, a) > worth(position, b); });
    return moves;
}

} // namespace

int Settler::search(Position& position, int alpha, int beta, int ply) {
    const bool check = position.in_check();
    const int standing = solve::balance(position, position.turn());
    if (--m_left < 0 || --m_single < 0 || ply >= depth_limit) {
        return standing;
    }
    int best = check ? -infinity : standing;
    const std::vector<Move> moves = candidates(position, ply);
    if (moves.empty() && !position.has_legal_move()) {
        return check ? -(mate_value - ply) : 0;
    }
    for (const Move move : moves) {
        if (best >= beta) {
            break;
        }
        // The other side may stand after a move that is no check, so the move cannot bring more than its
        // worth.
        if (!check && standing + worth(position, move) <= std::max(alpha, best) &&
            !position.gives_check(move)) {
            continue;
        }
        const Position::Undo undo = position.make(move);
        best = std::max(best, -search(position, -beta, -std::max(alpha, best), ply + 1));
        position.unmake(move, undo);
    }
    return best;
}

int Settler::settle_within(const Position& position, int alpha, int beta) {
    Position copy = position;
    m_single = single_limit;
    const int value = search(copy, alpha, beta, 0);
    m_asked -= single_limit - m_single;
    return value;
}

int Settler::settle(const Position& position, board::Color side) {
    const int value = settle_within(position, -infinity, infinity);
    return position.turn() == side ? value : -value;
}

int Settler::worst_reply(const Position& position, board::Color side) {
    int worst = infinity;
    for (const Move reply : position.legal_moves()) {
        worst = std::min(worst, settle_within(position.after(reply), -infinity, worst));
    }
    return worst < infinity ? worst : settle(position, side); // mate and stalemate
}

bool Settler::keeps(const Position& position, board::Color side, int goal, int moves) {
    m_asked = keeps_limit;
    return position.turn() != side && holds(position, side, goal, moves);
}

bool Settler::holds(const Position& position, board::Color side, int goal, int moves) {
    const board::MoveList replies = position.legal_moves();
    if (replies.empty()) {
        return settle(position, side) >= goal;
    }
    return std::all_of(replies.begin(), replies.end(),
                       [&](Move reply) { return answers(position.after(reply), side, goal, moves); });
}

bool Settler::answers(const Position& position, board::Color side, int goal, int moves) {
    if (m_left < 0 || m_asked < 0) {
        return false;
    }
    if (settle_within(position, goal - 1, goal) >= goal) {
        return true;
    }
    const board::MoveList own = position.legal_moves();
    return moves > 0 && std::any_of(own.begin(), own.end(), [&](Move move) {
               return holds(position.after(move), side, goal, moves - 1);
           });
}

} // namespace motif
