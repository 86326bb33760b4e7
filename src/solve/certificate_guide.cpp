#include "solve/certificate_guide.hpp"

namespace solve {

using board::Move;
using board::Position;

std::optional<bool> CompleteGuide::mated_within(Position& position, int moves) {
    const auto left = m_prover.shortest_after(position, moves, m_scope);
    return m_prover.stopped() ? std::nullopt : std::optional(left.has_value());
}

/// Among checks an endgame table may know a quiet move that mates as fast: these are tried last.
std::optional<MatingMove> CompleteGuide::answer(Position& position, int moves, std::span<const Move> liked) {
    const auto length = m_prover.shortest(position, moves, m_scope);
    for (const bool quiet : {false, true}) {
        for (std::size_t i = 0; length && i < liked.size(); ++i) {
            const bool late = m_scope == MateProver::Scope::checks && !position.gives_check(liked[i]);
            if (late != quiet) {
                continue;
            }
            const auto undo = position.make(liked[i]);
            const bool mates = m_prover.survives_not(position, *length - 1, m_scope);
            position.unmake(liked[i], undo);
            if (mates) {
                return MatingMove{liked[i], *length - 1};
            }
            if (m_prover.stopped()) {
                return std::nullopt;
            }
        }
    }
    return std::nullopt;
}

std::optional<bool> LongGuide::mated_within(Position& position, int moves) {
    return m_long_prover.mated_within(position, moves);
}

std::optional<MatingMove> LongGuide::answer(Position& position, int moves, std::span<const Move> liked) {
    constexpr int last_moves = 3;       // soon proved shortest, and then
    constexpr Nodes for_those = 20'000; // there is a choice among moves that mate as fast
    const auto found = m_long_prover.mating_move(position, moves);
    if (found && found->left < last_moves) {
        const Account::Share share(m_account, for_those);
        if (const auto shortest = m_last_moves.answer(position, found->left + 1, liked)) {
            return shortest;
        }
    }
    return found;
}

} // namespace solve
