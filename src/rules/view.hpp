#pragma once
// A puzzle as the rules see it: what its author wrote, and the analyses, each computed at the first question
// and shared.

#include "collection/document.hpp"
#include "motif/motif.hpp"
#include "rules/policy.hpp"
#include "setup/legality.hpp"
#include "solve/solver.hpp"

#include <memory>
#include <optional>
#include <vector>

namespace rules {

class Catalogue;
struct Company;   // company.hpp
struct LineFault; // faults.hpp
struct WeakReply; // weak_reply.hpp

/// What the tree's moves are worth. Made for the solver's moves and for defender's moves that end a line.
struct NodeVerdict {
    std::size_t node = 0;
    bool by_solver = false;
    bool inside_try = false;    ///< the node or one before it is marked as failing
    solve::Judgement judgement; ///< does the solver still reach the goal after this move?
};

class PuzzleView {
  public:
    PuzzleView(const collection::Document& document, const collection::Puzzle& puzzle,
               const Catalogue& catalogue, const Settings& settings);
    ~PuzzleView();
    PuzzleView(const PuzzleView&) = delete;
    PuzzleView& operator=(const PuzzleView&) = delete;

    [[nodiscard]] const collection::Document& document() const { return m_document; }
    [[nodiscard]] const collection::Puzzle& puzzle() const { return m_puzzle; }
    [[nodiscard]] const Catalogue& catalogue() const { return m_catalogue; }
    [[nodiscard]] const Settings& settings() const { return m_settings; }

    /// The diagram, when it can be played.
    [[nodiscard]] const std::optional<board::Position>& position() const { return m_puzzle.position; }
    [[nodiscard]] board::Color solver_side() const;
    /// The side field says one side, the rest of the puzzle the other (turn/*): then nothing about play is
    /// worth asking.
    [[nodiscard]] bool side_in_doubt() const;
    /// A caption says the other side, and everything else and the solution say this one: the text is wrong,
    /// the board is not in doubt (text/caption-turn).
    [[nodiscard]] bool caption_mistaken() const;

    [[nodiscard]] const std::vector<setup::Contradiction>& contradictions() const;

    /// Stated, or inferred from the line and what it is worth.
    [[nodiscard]] collection::Goal goal() const;
    [[nodiscard]] bool goal_stated() const { return m_puzzle.goal.has_value(); }
    /// The goal as a question about a position in which the solver has `moves_played` moves behind him.
    [[nodiscard]] solve::Aim aim(int moves_played) const;

    /// First move of the main line, when it is legal.
    [[nodiscard]] std::optional<board::Move> key() const;
    /// Where the key stands; the solution's span when there is no node.
    [[nodiscard]] collection::Span key_span() const;
    /// Legal moves among the accepted ones.
    [[nodiscard]] const std::vector<board::Move>& accepted() const;
    /// A verdict for every legal first move. Only with a playable position that is not over.
    [[nodiscard]] const solve::KeyTable& table() const;
    /// There is a position, a key and a goal that can be tested.
    [[nodiscard]] bool can_judge_play() const;

    /// Verdicts for the tree, by node index; empty unless can_judge_play().
    [[nodiscard]] const std::vector<NodeVerdict>& walk() const;

    /// Where printed lines lose the goal; the main line's first reply that is clearly not the best.
    [[nodiscard]] const std::vector<LineFault>& line_faults() const;
    [[nodiscard]] const std::optional<WeakReply>& weak_reply() const;

    /// What stands beside a key of which nothing was claimed. Only where the table has the key.
    [[nodiscard]] const Company& company() const;

    /// Motifs of the main line; of every other printed line.
    [[nodiscard]] const std::vector<motif::Evidence>& motifs() const;
    [[nodiscard]] const std::vector<motif::Evidence>& motifs_of_sidelines() const;
    /// What works in the unprinted play of a composed mate in two to four: variations, set play, tries.
    /// Empty unless the key is quiet and proved, as that of a problem.
    [[nodiscard]] const std::vector<motif::Evidence>& motifs_of_problem_play() const;

    /// For questions no shared analysis answers. Same solver, same node account.
    [[nodiscard]] solve::Solver& solver() const;

    /// Option of a rule: as configured, else the catalogue's default.
    [[nodiscard]] std::string option(std::string_view rule, std::string_view name) const;

  private:
    [[nodiscard]] std::optional<int> shown_mate() const;
    struct Cache;
    const collection::Document& m_document;
    const collection::Puzzle& m_puzzle;
    const Catalogue& m_catalogue;
    const Settings& m_settings;
    std::unique_ptr<Cache> m_cache;
};

} // namespace rules
