#pragma once
// Making a key table: mates first, then the key's score, then every rival held against it.

#include "solve/tools.hpp"
#include "solve/trial.hpp"

#include <vector>

namespace solve {

class TableMaker {
  public:
    TableMaker(Tools& tools, const board::Position& root, const Question& question);
    [[nodiscard]] KeyTable make();

  private:
    /// A first move on trial.
    struct Candidate {
        board::Move move;
        Trial trial;               ///< of the position after it
        std::optional<int> mate{}; ///< proved: solver's moves, this one included
        Line mate_line{}; ///< after the move, of a mate whose length is an upper bound: not of the complete
                          ///< prover
        std::optional<Standing> standing{};
        Certainty certainty = Certainty::open;
        Answer reaches = Answer::open;
        Nodes nodes = 0;
        bool judged = false; ///< nothing more to ask
    };
    /// A score, and what a rival is when it reaches that and no more.
    struct Rung {
        int score;
        Standing standing;
        Answer reaches;
    };
    using Rivals = std::span<Candidate>;

    [[nodiscard]] Candidate& key() { return m_candidates.front(); }
    [[nodiscard]] const Candidate& key() const { return m_candidates.front(); }
    [[nodiscard]] Rivals rivals() { return Rivals(m_candidates).subspan(1); }
    [[nodiscard]] std::span<const Candidate> rivals() const {
        return std::span<const Candidate>(m_candidates).subspan(1);
    }

    // key_table.cpp: proofs and the result
    void find_mates();
    void choose_key();
    void find_long_mate(Candidate& candidate);
    [[nodiscard]] board::Move best_by_search();
    void judge_by_mates();
    [[nodiscard]] KeyTable write();
    [[nodiscard]] MoveVerdict write(Candidate& candidate);
    void prove_blunder(MoveVerdict& verdict, board::Position& after) const;

    // key_scores.cpp: searches
    void judge_by_scores();
    void settle_key();
    void hear_appeal();
    void look_further();
    [[nodiscard]] bool undecided() const;
    [[nodiscard]] std::optional<int> key_at_most() const;
    void judge_key();
    [[nodiscard]] static std::optional<int> exact(const Candidate& candidate);
    [[nodiscard]] int key_value() const;
    [[nodiscard]] std::vector<Rung> rungs_for(int value) const;
    void set_rungs();
    void try_rivals(Nodes most_each);
    void confirm_alarms();
    [[nodiscard]] std::vector<Candidate*> alarms();
    static void keep_best(std::vector<Candidate*>& candidates, std::size_t most);
    void settle_last();
    [[nodiscard]] bool deepen_key();
    void conclude(Candidate& rival);
    [[nodiscard]] bool settled(const Candidate& rival) const;
    [[nodiscard]] bool deep_enough(const Candidate& rival) const;
    [[nodiscard]] bool stays_below(const Candidate& rival) const;
    [[nodiscard]] int rungs_reached(const Candidate& rival) const;
    [[nodiscard]] int failing_below() const;
    [[nodiscard]] bool key_wins() const;
    [[nodiscard]] bool key_fails() const;
    [[nodiscard]] bool beaten() const;
    [[nodiscard]] bool below_key(const Candidate& rival) const;

    Tools& m_tools;
    board::Position m_root;
    Question m_question;
    board::Color m_solver;
    std::vector<Candidate> m_candidates; ///< the key first
    std::vector<Rung> m_rungs;           ///< ascending
    std::vector<int> m_scores;           ///< of the rungs
    std::optional<int> m_shortest;
    int m_mates_to = 0;
    bool m_mates_complete = false;
    bool m_decided_before = false;
    int m_seen_from = 0; ///< depth at which the key shows its value
};

} // namespace solve
