#include "motif/settle.hpp"

#include "solve/solver.hpp"

#include <algorithm>

namespace motif {
namespace {

using board::Move;
using board::Position;
using board::Role;

constexpr int depth_limit = 12;
constexpr int node_limit = 1500;
constexpr int infinity = 10000;

/// Captured man plus what a promotion adds.
int worth(const Position& position, Move move) {
    const auto taken = position.captured(move);
    const int added = move.is_promotion() ? board::value_of(move.promotes_to()) - 1 : 0;
    return (taken ? board::value_of(*taken) : 0) + added;
}

class Search {
  public:
    /// Seen from the side to move.
    int run(Position& position, int alpha, int beta, int ply) {
        const bool check = position.in_check();
        const int standing = solve::balance(position, position.turn());
        if (++m_nodes > node_limit || ply >= depth_limit) {
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
            // The other side may stand after a move that is no check, so this move cannot bring more than its
            // worth.
            if (!check && standing + worth(position, move) <= std::max(alpha, best) &&
                !position.gives_check(move)) {
                continue;
            }
            const board::Position::Undo undo = position.make(move);
            best = std::max(best, -run(position, -beta, -std::max(alpha, best), ply + 1));
            position.unmake(move, undo);
        }
        return best;
    }

  private:
    static std::vector<Move> candidates(const Position& position, int ply) {
        std::vector<Move> moves;
        const bool everything = position.in_check();
        for (const Move move : everything || ply == 0 ? position.legal_moves() : position.legal_captures()) {
            const bool minor = move.is_promotion() && move.promotes_to() != Role::queen;
            const bool loud = position.is_capture(move) || (move.is_promotion() && !minor);
            if (everything || loud || (ply == 0 && position.gives_check(move))) {
                moves.push_back(move);
            }
        }
        std::stable_sort(moves.begin(), moves.end(),
                         [&](Move a, Move b) { return worth(position, a) > worth(position, b); });
        return moves;
    }

    int m_nodes = 0;
};

int settle_within(const Position& position, int alpha, int beta) {
    Position copy = position;
    return Search().run(copy, alpha, beta, 0);
}

} // namespace

int settle(const Position& position, board::Color side) {
    const int value = settle_within(position, -infinity, infinity);
    return position.turn() == side ? value : -value;
}

int worst_reply(const Position& position, board::Color side) {
    int worst = infinity;
    for (const Move reply : position.legal_moves()) {
        worst = std::min(worst, settle_within(position.after(reply), -infinity, worst));
    }
    if (worst < infinity) {
        return worst;
    }
    if (position.in_check()) {
        return position.turn() == side ? -mate_value : mate_value;
    }
    return 0;
}

} // namespace motif
