#pragma once
// Puts a puzzle together from the fields that a format names; what a value means is the same in all of them.
// Order matters: the FEN first, then solution and keys, which are played on its position.

#include "collection/movetext.hpp"
#include "collection/puzzle.hpp"
#include "collection/source.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace collection {

/// More of anything a puzzle lists (themes, accepted moves, fields ...) is cut off with a Fault.
inline constexpr std::size_t max_list = 1000;

void set_id(Puzzle& puzzle, const Source& source);
/// FEN, its reading, the diagram and the first statement of the side to move.
void set_fen(Puzzle& puzzle, const Source& source);
/// "Chess960" reads the FEN again, with an initial array that was shuffled; a game of other rules leaves the
/// puzzle without a diagram. Between set_fen and whatever is played on the diagram.
void set_variant(Puzzle& puzzle, const Source& source);
void set_goal(Puzzle& puzzle, const Source& source);
/// "white", "b", "Black to move"
void set_side(Puzzle& puzzle, const Source& source);
/// Movetext; the puzzle's position becomes the one after the lead-in.
void set_solution(Puzzle& puzzle, const Source& source, Notation notation = Notation::san,
                  FirstMove first = FirstMove::solver);
/// Key moves separated by blanks. Without a solution the first becomes one (`key_only`); the others are
/// accepted.
void set_keys(Puzzle& puzzle, const Source& source, Notation notation = Notation::san);
/// Moves separated by blanks or commas.
void add_accepted(Puzzle& puzzle, const Source& source, Notation notation = Notation::san);
void add_avoided(Puzzle& puzzle, const Source& source);
void add_themes(Puzzle& puzzle, const Source& source, std::string_view separator = ",");
/// "rule: why; rule: why"
void add_allowances(Puzzle& puzzle, const Source& source);
void add_allowance(Puzzle& puzzle, const Source& rule, const Source& why, Span span);
void add_field(Puzzle& puzzle, std::string name, const Source& value);
/// The side to move and what is asked for, when the text says so plainly: "White to move and win".
void add_caption(Puzzle& puzzle, const Source& source);
/// What a caption's phrase asks of the solver; nothing when it speaks of the other side. A sign alone speaks
/// of White (custom of studies).
[[nodiscard]] std::optional<Goal> goal_of(const Phrase& phrase, board::Color solver);
/// A goal that no field states is the first that a caption does. Once all captions are there.
void settle_goal(Puzzle& puzzle);
/// The same in the comment before the first move.
void add_caption_of_solution(Puzzle& puzzle);
/// Gives an id to a puzzle without one: "<file name>#<ordinal>".
void finish(Puzzle& puzzle, std::string_view path, std::size_t ordinal);

[[nodiscard]] std::optional<board::Color> read_color(std::string_view text);
void add_fault(Puzzle& puzzle, Fault::Kind kind, Span span, std::string what, std::string cure = {});

} // namespace collection
