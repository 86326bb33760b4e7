#pragma once
// Questions and words that the rules about play share.

#include "rules/view.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rules {

/// Findings of one kind in one puzzle past which nobody reads on.
inline constexpr std::size_t most_told = 20;

/// The goal is neither stated nor a mate that the line or the key shows: what is claimed is our reading.
[[nodiscard]] bool is_read_off(const PuzzleView& view);
/// False in an ending of few men: rook against pawn, or queen against a pawn on the seventh, is drawn
/// whatever the score.
[[nodiscard]] bool scores_tell(const PuzzleView& view);
[[nodiscard]] bool scores_tell(const board::Position& position);
/// A verdict that rests on a score where scores do not tell a win from a draw: no proof and no mate. Nothing
/// is reported from it.
[[nodiscard]] bool is_hollow(const PuzzleView& view, const solve::Value& value, solve::Certainty certainty);
/// Nobody stated a goal, and the move wins nothing in an ending of few pieces that was no worse before: a
/// lead of two or three pawns may well be a draw there.
[[nodiscard]] bool is_idle(const PuzzleView& view, const solve::Value& value, solve::Certainty certainty);
/// The solver's last moves of a line are checks: the chase goes on where the line ends, so it settles
/// nothing.
[[nodiscard]] bool ends_in_chase(const board::Position& start, board::Color solver, const solve::Line& line);
/// Proved, a mate, or a score that says something: not among few men, not in the midst of a chase.
[[nodiscard]] bool tells(const board::Position& position, const solve::Judgement& judged);
/// What the walk says of a node; nullptr where it says nothing.
[[nodiscard]] const NodeVerdict* verdict_of(const PuzzleView& view, std::size_t node);
/// The author knows this further key.
[[nodiscard]] bool is_accepted(const PuzzleView& view, board::Move move);
/// The author says that this first move does not solve: a printed try, or a move to be avoided.
[[nodiscard]] bool said_to_fail(const PuzzleView& view, board::Move move);
/// The move stands among the printed ones after `node` (0: as a first move).
[[nodiscard]] std::optional<std::size_t> printed(const PuzzleView& view, std::size_t node, board::Move move);
/// The key's own node; 0 when there is none.
[[nodiscard]] std::size_t key_node(const PuzzleView& view);

/// Half of the puzzle's node account is unspent: a rule that asks about many printed moves stops there, so
/// that others can still ask.
[[nodiscard]] bool may_ask_more(const PuzzleView& view);

/// For a puzzle whose key is searched to decide nothing and that states no goal: a first move that does
/// decide, and its play.
[[nodiscard]] std::optional<solve::Judgement> overlooked(const PuzzleView& view);

/// A rival that was held against a bound only, with its own value and play; nothing when a second look puts
/// it below `least`. Proofs and what the budget does not reach stay as they are.
[[nodiscard]] std::optional<solve::MoveVerdict> confirmed(const PuzzleView& view,
                                                          const solve::MoveVerdict& rival, int least);

/// For every node the position its move is played in; only to be asked for nodes whose parents are legal.
[[nodiscard]] std::vector<board::Position> positions_before(const PuzzleView& view);
/// Position after `node`, every move on the way being legal.
[[nodiscard]] board::Position position_after(const PuzzleView& view, std::size_t node);
/// The printed moves up to `node` and then `tail`.
[[nodiscard]] solve::Line line_through(const PuzzleView& view, std::size_t node, const solve::Line& tail);
/// How many moves lead from the diagram to the position after `node`.
[[nodiscard]] std::size_t moves_up_to(const PuzzleView& view, std::size_t node);
/// "12...Nf6", numbered from the diagram; a move that cannot be played as it is written.
[[nodiscard]] std::string numbered(const PuzzleView& view, std::size_t node);
/// The same for a move that is not in the tree.
[[nodiscard]] std::string numbered(const board::Position& before, board::Move move);

/// Text of the author's for a message: at most 40 bytes, cut between characters.
[[nodiscard]] std::string clipped(std::string_view text);
/// "White", "Black"
[[nodiscard]] std::string_view side_name(board::Color color);
/// "+3.1", "-0.4", "mate in 3", "mated in 2", seen from the solver.
[[nodiscard]] std::string value_text(const solve::Value& value);
/// The same for a first move that was only held against a bound: "at least +2.0".
[[nodiscard]] std::string value_text(const solve::MoveVerdict& verdict);
/// "a", "a and b", "a, b and c" (`last` for "and"); past `most` parts "a, b, c and 4 more".
[[nodiscard]] std::string listed(const std::vector<std::string>& parts, std::size_t most,
                                 std::string_view last = "and");

} // namespace rules
