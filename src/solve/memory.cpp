#include "solve/memory.hpp"

#include "solve/score.hpp"

#include <algorithm>
#include <bit>

namespace solve {

int Memo::score_at(int ply) const {
    return score > mate_region ? score - ply : score < -mate_region ? score + ply : score;
}

std::int16_t Memo::score_from(int score, int ply) {
    const int moved = score > mate_region ? score + ply : score < -mate_region ? score - ply : score;
    return static_cast<std::int16_t>(moved);
}

bool Memo::answers(int alpha, int beta, int ply) const {
    return bound == Bound::exact || (bound == Bound::lower && score_at(ply) >= beta) ||
           (bound == Bound::upper && score_at(ply) <= alpha);
}

Memory::Memory(std::uint64_t entries)
    : m_entries(std::bit_ceil(std::clamp<std::uint64_t>(entries, 1U << 10U, 1U << 20U))) {}

const Memo* Memory::find(board::Hash hash) const {
    if (m_memos.empty()) {
        return nullptr;
    }
    const std::size_t first = first_of(hash);
    for (std::size_t i = first; i < first + bucket; ++i) {
        if (m_memos[i].hash == hash && m_memos[i].bound != Bound::none) {
            return &m_memos[i];
        }
    }
    return nullptr;
}

void Memory::store(const Memo& memo) {
    if (m_memos.empty()) {
        m_memos.resize(m_entries);
    }
    const std::size_t first = first_of(memo.hash);
    Memo* worst = &m_memos[first];
    for (std::size_t i = first; i < first + bucket; ++i) {
        Memo& old = m_memos[i];
        if (old.hash == memo.hash && old.depth > memo.depth + 2 && old.bound != Bound::none) {
            return; // much more was known already
        }
        if (old.hash == memo.hash || old.bound == Bound::none) {
            worst = &old;
            break;
        }
        if (old.depth < worst->depth) {
            worst = &old;
        }
    }
    const board::Move best = memo.best || worst->hash != memo.hash ? memo.best : worst->best;
    *worst = memo;
    worst->best = best;
}

} // namespace solve
