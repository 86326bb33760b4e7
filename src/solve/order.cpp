#include "solve/order.hpp"

#include "solve/exchange.hpp"

#include <algorithm>

namespace solve {
namespace {

using board::Color;
using board::Move;
using board::MoveList;
using board::Position;
using board::Role;

constexpr int weight_limit = 1 << 14;
constexpr int remembered = 1 << 24; // the move that was best before
constexpr int unweighed = 1 << 22;  // captures and queenings, until their exchange is weighed
constexpr int unweighed_check = 1 << 21;
constexpr int losing = 1 << 21; // captures that lose on the square: after all the quiet moves
constexpr int refuter = 1 << 18;
constexpr int dropped = -(1 << 30);

bool is_queening(Move move) {
    return move.is_promotion() && move.promotes_to() == Role::queen;
}

/// Most valuable victim first, then the cheapest taker.
int takes(const Position& position, Move move) {
    const auto taken = position.captured(move);
    const int victim = (taken ? board::value_of(*taken) : 0) + (is_queening(move) ? 8 : 0);
    const auto mover = position.at(move.from());
    return 16 * victim - (mover->role == Role::king ? 10 : board::value_of(mover->role));
}

/// Does taking lose men? A cheaper man taking a dearer one never does.
bool loses(const Position& position, Move move) {
    const auto taken = position.captured(move);
    const auto mover = position.at(move.from());
    if (taken && !move.is_promotion() && mover->role != Role::king &&
        board::value_of(mover->role) <= board::value_of(*taken)) {
        return false;
    }
    return exchange_value(position, move) < 0;
}

} // namespace

std::size_t Experience::slot(Color side, Move move) {
    return (index(side) * 64 + static_cast<std::size_t>(index(move.from()))) * 64 +
           static_cast<std::size_t>(index(move.to()));
}

void Experience::shift(Color side, Move move, int bonus) {
    std::int16_t& weight = m_weights[slot(side, move)];
    // Pulled towards zero in proportion, so that it stays within the limit and forgets.
    weight = static_cast<std::int16_t>(weight + bonus - weight * std::abs(bonus) / weight_limit);
}

void Experience::reward(Color side, int ply, int depth, Move move, const MoveList& tried) {
    auto& refuters = m_refuters[static_cast<std::size_t>(ply)];
    if (refuters[0] != move) {
        refuters[1] = refuters[0];
        refuters[0] = move;
    }
    const int bonus = std::min(16 * depth * depth, 2000);
    shift(side, move, bonus);
    for (const Move other : tried) {
        if (other != move) {
            shift(side, other, -bonus);
        }
    }
}

bool Experience::refuted_at(int ply, Move move) const {
    const auto& refuters = m_refuters[static_cast<std::size_t>(ply)];
    return refuters[0] == move || refuters[1] == move;
}

int Experience::weight(Color side, Move move) const {
    return m_weights[slot(side, move)];
}

Picker::Picker(const Position& position, Move first, const Experience& experience, int ply)
    : m_position(position), m_losing(Losing::last), m_moves(position.legal_moves()) {
    rank_all(first, experience, ply);
}

void Picker::rank_all(Move first, const Experience& experience, int ply) {
    for (std::size_t i = 0; i < m_moves.size(); ++i) {
        const Move move = m_moves[i];
        if (move == first) {
            m_ranks[i] = remembered;
        } else if (m_position.is_capture(move) || is_queening(move)) {
            m_ranks[i] = unweighed + takes(m_position, move);
        } else if (move.is_promotion()) {
            m_ranks[i] = -losing; // underpromotions are looked at, but last
        } else {
            m_ranks[i] =
                experience.weight(m_position.turn(), move) + (experience.refuted_at(ply, move) ? refuter : 0);
        }
    }
}

Picker::Picker(const Position& position, Move first, Quiet quiet)
    : m_position(position), m_losing(Losing::dropped),
      m_moves(quiet == Quiet::checks ? position.legal_moves() : position.legal_captures()) {
    MoveList kept;
    for (const Move move : m_moves) {
        const bool takes_man = position.is_capture(move);
        if (!takes_man && !is_queening(move) && !position.gives_check(move)) {
            continue;
        }
        if (move.is_promotion() && !is_queening(move) && !position.gives_check(move)) {
            continue;
        }
        m_ranks[kept.size()] = move == first                    ? remembered
                               : takes_man || is_queening(move) ? unweighed + takes(position, move)
                                                                : unweighed_check;
        kept.push(move);
    }
    m_moves = kept;
}

std::size_t Picker::best_left() const {
    return static_cast<std::size_t>(
        std::max_element(m_ranks.begin() + static_cast<std::ptrdiff_t>(m_next),
                         m_ranks.begin() + static_cast<std::ptrdiff_t>(m_moves.size())) -
        m_ranks.begin());
}

/// Exchanges are weighed only when their move comes up: most nodes are cut before. False: the move stays
/// where it is.
bool Picker::sink_if_losing(std::size_t at) {
    const int rank = m_ranks[at];
    if (rank < unweighed_check || rank >= remembered || !loses(m_position, m_moves[at])) {
        return false;
    }
    m_ranks[at] = m_losing == Losing::dropped ? dropped : rank - unweighed - losing;
    return true;
}

Move Picker::next() {
    while (m_next < m_moves.size()) {
        const std::size_t best = best_left();
        if (m_ranks[best] == dropped) {
            return Move();
        }
        if (sink_if_losing(best)) {
            continue;
        }
        std::swap(m_ranks[best], m_ranks[m_next]);
        std::swap(m_moves.begin()[best], m_moves.begin()[m_next]);
        return m_moves[m_next++];
    }
    return Move();
}

} // namespace solve
