#pragma once
// Where the writer of a certificate (certificate.hpp) has its moves from: somebody who can prove the mate.

#include "solve/long_mate.hpp"
#include "solve/mate.hpp"

#include <optional>
#include <span>

namespace solve {

class Guide {
  public:
    Guide() = default;
    Guide(const Guide&) = delete;
    Guide& operator=(const Guide&) = delete;
    virtual ~Guide() = default;

    /// The defender is to move: is he mated by at most `moves` more moves of the other side? Nothing: not
    /// settled within the account.
    [[nodiscard]] virtual std::optional<bool> mated_within(board::Position& position, int moves) = 0;
    /// The attacker is to move and mates within `moves`: the first of the `liked` that mates soonest, where
    /// that can be told. Nothing, for a mate that was proved: the account ran dry.
    [[nodiscard]] virtual std::optional<MatingMove> answer(board::Position& position, int moves,
                                                           std::span<const board::Move> liked) = 0;
};

/// Shortest mates, by all moves or by checks alone.
class CompleteGuide final : public Guide {
  public:
    CompleteGuide(MateProver& prover, MateProver::Scope scope) : m_prover(prover), m_scope(scope) {}

    [[nodiscard]] std::optional<bool> mated_within(board::Position& position, int moves) override;
    [[nodiscard]] std::optional<MatingMove> answer(board::Position& position, int moves,
                                                   std::span<const board::Move> liked) override;

  private:
    MateProver& m_prover;
    MateProver::Scope m_scope;
};

/// Mates by proof numbers, whose lengths are upper bounds; their last moves are the complete prover's.
class LongGuide final : public Guide {
  public:
    LongGuide(LongMateProver& long_prover, MateProver& prover, Account& account)
        : m_long_prover(long_prover), m_last_moves(prover, MateProver::Scope::all), m_account(account) {}

    [[nodiscard]] std::optional<bool> mated_within(board::Position& position, int moves) override;
    [[nodiscard]] std::optional<MatingMove> answer(board::Position& position, int moves,
                                                   std::span<const board::Move> liked) override;

  private:
    LongMateProver& m_long_prover;
    CompleteGuide m_last_moves;
    Account& m_account;
};

} // namespace solve
