#pragma once
// The win search: alpha-beta with a zero window but for the principal line, extended to quiet positions.
//
// Draws by repetition within the line searched, by stalemate and by dead positions count 0; the fifty-move
// counter is not looked at. What is cut without full search: a pass that holds (only when a search without
// passing confirms it), late quiet moves that fail at less depth, and in the last three plies quiet moves
// that cannot lift the value far enough or come behind many that failed.

#include "solve/account.hpp"
#include "solve/endgames.hpp"
#include "solve/memory.hpp"
#include "solve/order.hpp"
#include "solve/score.hpp"

#include <array>
#include <optional>
#include <span>
#include <vector>

namespace solve {

struct Window {
    int alpha = -infinite;
    int beta = infinite;
    /// Asks only whether the score reaches `score`.
    [[nodiscard]] static Window at_least(int score) { return {score - 1, score}; }
};

struct Found {
    int score = 0; ///< for the side to move; a bound when it lies outside the window
    Line line;     ///< principal line; one side's choices only when the window was missed
};

class Search {
  public:
    Search(Memory& memory, Account& account, const Endgames& endgames)
        : m_memory(memory), m_account(account), m_endgames(endgames) {}

    /// Searches `depth` plies and what is not quiet beyond. Nothing when the account ran dry before the end.
    /// `before`: hashes of positions of the same line before the root, for repetitions.
    [[nodiscard]] std::optional<Found> run(const board::Position& root, std::span<const board::Hash> before,
                                           int depth, Window window);
    /// Follows the best moves remembered from here.
    [[nodiscard]] Line remembered_line(const board::Position& root, std::size_t longest) const;

  private:
    enum class Pass : std::uint8_t { allowed, forbidden };
    /// A node on its way: what is known before its moves are tried.
    struct Visit {
        int alpha;
        int beta;
        int depth;
        int ply;
        bool in_check;
        int standing = 0; ///< static value
        bool has_officers = false;
        board::Move first{};
        [[nodiscard]] bool open() const { return beta - alpha > 1; }
        [[nodiscard]] bool hopeless() const;
        [[nodiscard]] bool has_tried_enough(int count, int best) const;
    };
    int node(int alpha, int beta, int depth, int ply, Pass pass);
    int best_move(Visit visit);
    int try_move(const Visit& visit, int count, bool late);
    static constexpr int checks_in_quiescence = 2; ///< plies of quiescence in which quiet checks are tried
    int quiet(int alpha, int beta, int ply, int checks_left);
    int evasions(int alpha, int beta, int ply, int checks_left);
    [[nodiscard]] bool pass_holds(int beta, int depth, int ply);
    [[nodiscard]] static bool may_pass(const Visit& visit);
    [[nodiscard]] bool repeats() const;
    void store(int score, int alpha, int beta, int depth, int ply, board::Move best);
    void lengthen(int ply, board::Move move);

    Memory& m_memory;
    Account& m_account;
    const Endgames& m_endgames;
    Experience m_experience;
    board::Position m_position;
    std::vector<board::Hash> m_path; ///< positions before the present one
    std::size_t m_path_begin = 0;    ///< repetitions do not reach back past a pass
    int m_root_depth = 0;
    bool m_stopped = false;
    std::array<std::array<board::Move, longest_path>, longest_path> m_lines;
    std::array<int, longest_path> m_line_ends{};
};

} // namespace solve
