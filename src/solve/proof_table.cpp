#include "solve/proof_table.hpp"

#include <algorithm>
#include <bit>

namespace solve {

ProofNumbers ProofNumbers::mate_in(int plies, bool attacks) {
    ProofNumbers numbers = attacks ? reached() : thwarted();
    numbers.plies = static_cast<std::uint16_t>(plies);
    return numbers;
}

ProofNumbers ProofNumbers::no_mate(bool attacks, std::int16_t rests_on) {
    ProofNumbers numbers = attacks ? thwarted() : reached();
    numbers.rests_on = rests_on;
    return numbers;
}

ProofTable::ProofTable(std::uint64_t entries)
    : m_entries(std::bit_ceil(std::clamp<std::uint64_t>(entries, 1U << 10U, 1U << 20U))) {}

std::optional<ProofNumbers> ProofTable::find(board::Hash key) const {
    if (m_table.empty()) {
        return std::nullopt;
    }
    const std::size_t first = key & (m_entries - 1) & ~(bucket - 1);
    for (std::size_t i = first; i < first + bucket; ++i) {
        if (m_table[i].key == key && m_table[i].work > 0) {
            return m_table[i].numbers;
        }
    }
    return std::nullopt;
}

void ProofTable::store(board::Hash key, const ProofNumbers& numbers, std::uint64_t work) {
    if (m_table.empty()) {
        m_table.resize(m_entries);
    }
    const std::size_t first = key & (m_entries - 1) & ~(bucket - 1);
    Entry* place = &m_table[first];
    std::uint64_t total = std::max<std::uint64_t>(work, 1);
    for (std::size_t i = first; i < first + bucket; ++i) {
        Entry& entry = m_table[i];
        if (entry.key == key && entry.work > 0) {
            total += entry.work; // what earlier visits spent on it counts, too
            place = &entry;
            break;
        }
        if (entry.work < place->work) {
            place = &entry;
        }
    }
    const auto most = std::numeric_limits<std::uint32_t>::max();
    *place = {key, numbers, static_cast<std::uint32_t>(std::min<std::uint64_t>(total, most))};
}

} // namespace solve
