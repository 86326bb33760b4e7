#pragma once
// The mate prover: every reply of the defender is answered, so what it proves is proved. With all moves of
// the attacker allowed (Scope::all) what it denies is denied as well.
//
// Repetition and the fifty-move rule are left out: a shortest mate never repeats a position, and no problem
// knows fifty moves.

#include "solve/account.hpp"
#include "solve/endgames.hpp"

#include <array>
#include <vector>

namespace solve {

class MateProver {
  public:
    enum class Scope : std::uint8_t {
        all,    ///< every move of the attacker: complete
        checks, ///< checking moves only: proves, but denies nothing; reaches far
    };

    /// `entries` (16 bytes each) is rounded to a power of two between 2^10 and 2^20.
    MateProver(std::uint64_t entries, Account& account, const Endgames& endgames);

    /// The least n up to `limit` with which the side to move mates. Nothing: none, or stopped().
    [[nodiscard]] std::optional<int> shortest(board::Position& position, int limit, Scope scope);
    /// The defender is to move: does the attacker mate with at most `moves` more moves? False when stopped().
    [[nodiscard]] bool survives_not(board::Position& position, int moves, Scope scope);
    /// The least n up to `limit` for a defender to move (0: mated already). Nothing: none, or stopped().
    [[nodiscard]] std::optional<int> shortest_after(board::Position& position, int limit, Scope scope);
    /// Play of a proved mate of that length, the defender holding out as long as he can. May end early when
    /// stopped().
    [[nodiscard]] Line longest_defence(board::Position& position, int length, Scope scope);
    /// The same with the defender to move.
    [[nodiscard]] Line longest_defence_after(board::Position& position, int moves, Scope scope);
    /// The reply that refutes a mate after `moves` more moves; none if unknown.
    [[nodiscard]] board::Move refutation(const board::Position& position, Scope scope) const;

    /// Did the account run dry during the last question?
    [[nodiscard]] bool stopped() const { return m_stopped; }

  private:
    struct Proof {
        board::Hash hash = 0;
        std::uint8_t proved = none; ///< mates with that many moves
        std::uint8_t denied = 0;    ///< no mate with that many moves or fewer
        bool known = false;
        board::Move move; ///< attacker: the mating move; defender: the reply that refuted last
    };
    static constexpr std::uint8_t none = 255;
    static constexpr int most_moves = 100;

    bool attack(board::Position& position, int moves, Scope scope);
    bool attack_exactly(board::Position& position, int moves, Scope scope, board::Move first,
                        board::Move& found);
    bool mate_in_one(board::Position& position, board::Move& found);
    bool defend(board::Position& position, int moves, Scope scope);
    [[nodiscard]] board::Move hardest_reply(board::Position& position, int left, Scope scope);
    [[nodiscard]] Proof look_up(board::Hash key) const;
    void store(const Proof& proof);

    Account& m_account;
    const Endgames& m_endgames;
    std::size_t m_entries;
    std::vector<Proof> m_proofs;
    std::array<board::Move, most_moves + 1> m_refuters{}; ///< by moves left: the reply that refuted last
    bool m_stopped = false;
};

} // namespace solve
