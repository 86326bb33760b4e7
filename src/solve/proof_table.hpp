#pragma once
// What proof-number search knows about positions: bounded, allocated on first use, never shared.

#include "board/position.hpp"

#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

namespace solve {

/// How many open ends the side to move has to settle yet for its purpose (`gain`), and the other side to
/// thwart it (`fail`). The attacker's purpose is mate, the defender's is not to be mated.
struct ProofNumbers {
    static constexpr std::uint32_t infinite = 1U << 28U;
    static constexpr std::int16_t nothing = std::numeric_limits<std::int16_t>::max();
    static constexpr std::int16_t beyond = -1; ///< a denial that rests on the end of the path allowed

    std::uint32_t gain = 1;  ///< 0: reached
    std::uint32_t fail = 1;  ///< 0: thwarted
    std::uint16_t plies = 0; ///< of a mate: no line of its proof is longer
    /// Of a denial: the least ply of the path whose position a line came back to; `nothing`: it holds on any
    /// path.
    std::int16_t rests_on = nothing;

    [[nodiscard]] bool solved() const { return gain == 0 || fail == 0; }
    [[nodiscard]] static constexpr ProofNumbers reached() { return {0, infinite, 0, nothing}; }
    [[nodiscard]] static constexpr ProofNumbers thwarted() { return {infinite, 0, 0, nothing}; }

    // Seen from the mate: with `attacks` the attacker is to move.
    [[nodiscard]] bool is_mate(bool attacks) const { return (attacks ? gain : fail) == 0; }
    [[nodiscard]] static ProofNumbers mate_in(int plies, bool attacks);
    [[nodiscard]] static ProofNumbers no_mate(bool attacks, std::int16_t rests_on = nothing);
};

class ProofTable {
  public:
    /// `entries` (24 bytes each) is rounded to a power of two between 2^10 and 2^20.
    explicit ProofTable(std::uint64_t entries);
    [[nodiscard]] std::optional<ProofNumbers> find(board::Hash key) const;
    /// `work` is what the numbers cost: where room is short the dearer ones stay.
    void store(board::Hash key, const ProofNumbers& numbers, std::uint64_t work);

  private:
    struct Entry {
        board::Hash key = 0;
        ProofNumbers numbers;
        std::uint32_t work = 0; ///< 0: empty
    };
    static constexpr std::size_t bucket = 4;
    std::size_t m_entries;
    std::vector<Entry> m_table;
};

} // namespace solve
