#pragma once
// The transposition memory of one puzzle: bounded, allocated on first use, never shared.

#include "board/position.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace solve {

enum class Bound : std::uint8_t { none, upper, lower, exact };

/// What a search found out about a position. Mates are counted from the position itself.
struct Memo {
    board::Hash hash = 0;
    std::int16_t score = 0;
    std::int16_t depth = 0;
    board::Move best;
    Bound bound = Bound::none;

    /// The score as the root `ply` plies above sees it, and back.
    [[nodiscard]] int score_at(int ply) const;
    [[nodiscard]] static std::int16_t score_from(int score, int ply);
    /// Does it settle whether the score lies outside the window, or where in it?
    [[nodiscard]] bool answers(int alpha, int beta, int ply) const;
};

class Memory {
  public:
    /// `entries` is rounded to a power of two between 2^10 and 2^20 (16 bytes each).
    explicit Memory(std::uint64_t entries);
    [[nodiscard]] const Memo* find(board::Hash hash) const;
    /// The memos of this position will be asked for soon: memory is slow, and there is a move's work to do
    /// meanwhile.
    void expect(board::Hash hash) const {
        if (!m_memos.empty()) {
            __builtin_prefetch(&m_memos[first_of(hash)]);
        }
    }
    /// Keeps the deeper of two memos where room is short; the newer one of the same position.
    void store(const Memo& memo);

  private:
    static constexpr std::size_t bucket = 4;
    [[nodiscard]] std::size_t first_of(board::Hash hash) const {
        return (hash & (m_entries - 1)) & ~(bucket - 1);
    }
    std::size_t m_entries;
    std::vector<Memo> m_memos;
};

} // namespace solve
