#pragma once
// Long forced mates by proof numbers.
//
// How it works. A mate is a tree: the attacker needs one move that works, the defender is refuted only when
// every reply is answered. For each position two numbers are kept: how many open ends must still be settled
// to prove the mate, and how many to deny it. One success settles the mover's side, so his `gain` is the
// least of what his moves leave the other to fail by; his `fail` adds up over the moves that must all be
// answered. From the root the search always walks to the end that takes least, down the attacker's move with
// the fewest open ends and the reply that is easiest to hold, and stays there until the numbers say that
// another place is nearer. So a mate of twenty moves with few replies each is found sooner than a mate of
// four with many. A fresh position is numbered by what a first look shows: a reply counts as one open end, so
// checks that leave few come first and quiet moves wait until the checks have grown dearer, but none is left
// out.
//
// Why it is sound. A mate is proved only from mates proved before it, down to checkmate on the board or a
// table of few men; the length is the longest line of that proof. A line that comes back to a position of its
// own path does not mate: that denial depends on the path, and so does all that rests on it. It is stored
// under the path it was found on, and as a general truth only from the position on to which the line came
// back (a shortest mate never repeats a position, so nothing is lost there). The same holds for lines cut off
// at `most_plies`, which are never denied in general. Stalemate and dead positions deny. The fifty-move rule
// is ignored. As everywhere in this room, two positions of one 64-bit hash are taken for the same.
//
// Why it ends. Every position entered is paid for, and the account is finite. What is stopped is neither
// proved nor denied, and nothing half-seen is stored.
//
// What it costs. The table is bounded (24 bytes an entry, allocated at the first question); where room is
// short the results of most work stay, and what was lost is proved again. The path costs a child's entry for
// every legal move on it. A proof is seldom the shortest mate at once: as many nodes as it took, and some
// more, go into asking for a mate two plies shorter, in the same way but with a bound, until one is denied.
// Then the length is exact; otherwise it is an upper bound.

#include "solve/account.hpp"
#include "solve/endgames.hpp"
#include "solve/proof_table.hpp"

#include <optional>
#include <vector>

namespace solve {

struct LongMate {
    int moves = 0;         ///< the attacker's moves to mate: never too few
    bool shortest = false; ///< nor too many: every shorter mate was denied
    /// The defender holding out as long as the proof lets him; as long as `moves` says, shorter only when the
    /// account ran dry, or the table was too small, while it was written.
    Line line;
};

/// A move of the attacker, and within how many more of his moves he mates after it.
struct MatingMove {
    board::Move move;
    int left = 0;
};

class LongMateProver {
  public:
    /// `entries` is rounded to a power of two between 2^10 and 2^20.
    LongMateProver(std::uint64_t entries, Account& account, const Endgames& endgames);

    /// A mate by the side to move. Nothing: denied(), or not found within the account.
    [[nodiscard]] std::optional<LongMate> find(const board::Position& position);
    /// The defender is to move: a mate by the other side.
    [[nodiscard]] std::optional<LongMate> find_after(const board::Position& position);

    // For who writes a whole proof down.
    /// The defender is to move: is he mated by at most `moves` more moves of the other side? Nothing: not
    /// settled within the account.
    [[nodiscard]] std::optional<bool> mated_within(board::Position& position, int moves);
    /// The attacker is to move and mates within `moves`: the move whose mate is proved to come soonest. What
    /// the table has lost is proved again. Nothing: stopped(), if the mate was proved.
    [[nodiscard]] std::optional<MatingMove> mating_move(board::Position& position, int moves);

    /// Did the last question end in proof that there is no mate, of whatever length?
    [[nodiscard]] bool denied() const { return m_denied; }
    /// Did the account run dry before the last question was answered?
    [[nodiscard]] bool stopped() const { return m_stopped; }

  private:
    using Numbers = ProofNumbers;
    static constexpr int most_plies = 200;
    /// So many further moves of the attacker are as much as one to deny.
    static constexpr std::uint32_t attacks_an_end = 8;

    /// Where in the search a position is met.
    struct Spot {
        int ply;
        int left;         ///< plies to the end of what is looked at
        bool attacks;     ///< the attacker is to move
        board::Hash path; ///< names the way here, in order
        [[nodiscard]] static Spot first(const board::Position& position, int left, bool attacks);
        /// One ply on, at `position`.
        [[nodiscard]] Spot after(const board::Position& position) const;
    };
    struct Child {
        board::Move move;
        Numbers numbers;
    };
    /// A position is worked on until one of its numbers reaches these.
    struct Limits {
        std::uint32_t gain;
        std::uint32_t fail;
    };
    struct Choice {
        Numbers numbers;
        std::size_t best = 0;
        Limits limits{}; ///< for the best child
    };
    /// A move and how many plies after it the mate is proved, if it is.
    struct Step {
        board::Move move;
        std::optional<int> plies;
    };

    // the questions
    [[nodiscard]] std::optional<LongMate> find(board::Position position, bool attacks);
    [[nodiscard]] Numbers prove(board::Position& position, bool attacks, std::optional<int> plies);
    [[nodiscard]] bool shorten(board::Position& position, bool attacks, int& plies);
    [[nodiscard]] LongMate write(board::Position& position, bool attacks, int plies);
    [[nodiscard]] Line longest_line(board::Position& position, bool attacks, int plies);
    [[nodiscard]] Line attacking_line(board::Position& position, int plies);
    [[nodiscard]] Line defending_line(board::Position& position, int plies);
    [[nodiscard]] Line line_after(board::Position& position, const Step& step, bool attacks);
    [[nodiscard]] std::optional<Step> mating_step(board::Position& position, int plies);
    [[nodiscard]] std::vector<Step> steps(board::Position& position, bool attacks);

    // the search
    Numbers work(board::Position& position, const Spot& spot, Limits limits);
    void expand(board::Position& position, const Spot& spot);
    [[nodiscard]] Choice choose(std::size_t first, bool attacks, Limits limits) const;
    void settle(Numbers& numbers, std::size_t first, const Spot& spot) const;

    // the numbers of a position
    [[nodiscard]] Numbers number(board::Position& position, const Spot& spot);
    [[nodiscard]] std::optional<Numbers> repeated(const board::Position& position, const Spot& spot) const;
    [[nodiscard]] std::optional<Numbers> known(const board::Position& position, const Spot& spot) const;
    [[nodiscard]] std::optional<Numbers> ending(const board::Position& position, const Spot& spot) const;
    [[nodiscard]] Numbers first_look(board::Position& position, const Spot& spot);
    [[nodiscard]] Numbers look_at_checks(board::Position& position, const Spot& spot);
    [[nodiscard]] Numbers cut_off(bool attacks) const;
    void store(const board::Position& position, const Spot& spot, const Numbers& numbers, Nodes cost);
    [[nodiscard]] board::Hash key(const board::Position& position) const;
    [[nodiscard]] board::Hash key(const board::Position& position, const Spot& spot) const;
    [[nodiscard]] bool pay();

    Account& m_account;
    ProofTable m_table;
    const Endgames& m_endgames;
    std::vector<board::Hash> m_path;
    std::vector<Child> m_children; ///< of all positions of the path, one after the other
    board::Color m_attacker = board::Color::white;
    bool m_bounded = false;    ///< the mate must come within Spot::left; repetitions need no care then
    bool m_path_bound = false; ///< some denial is stored under its path
    bool m_stopped = false;
    bool m_denied = false;
};

} // namespace solve
