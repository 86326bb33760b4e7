#pragma once
// A puzzle as its author wrote it: position, claims, solution, each with its place. Nothing here is judged.

#include "board/fen.hpp"
#include "board/position.hpp"
#include "collection/goal.hpp"
#include "collection/movetree.hpp"
#include "collection/phrases.hpp"
#include "collection/span.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace collection {

/// Something that could not be read as it should be. It never stops the puzzle or the file behind it.
struct Fault {
    enum class Kind : std::uint8_t {
        syntax,     ///< the format's own rules are broken
        stray,      ///< nothing is lost, but something stands where it means nothing
        variant,    ///< a game of other rules: nothing is checked on the board
        encoding,   ///< bytes that are neither UTF-8 nor readable Latin-1
        limit,      ///< a bound on size, depth or length was exceeded; the rest of the unit was skipped
        field,      ///< a field's value makes no sense (goal, side, accepted move ...)
        unreadable, ///< the file could not be opened or holds no text; made by whoever fetched the bytes
    };
    Kind kind = Kind::syntax;
    Span span;
    std::string what; ///< what is wrong, no final stop
    std::string cure; ///< what to do, may be empty
};

/// One statement of whose turn it is.
struct SideStatement {
    enum class Source : std::uint8_t { fen, field, move_number, caption };
    board::Color color = board::Color::white;
    Source source = Source::fen;
    Span span;
};

/// "this rule may speak, and here is why it is all right"
struct Allowance {
    std::string rule; ///< "theme/missing"
    std::string why;  ///< empty: no reason given
    Span span;
};

struct Field {
    std::string name;
    std::string value;
    Span span; ///< of the value
};

struct Puzzle {
    Stated<std::string> id; ///< without one of its own: "<file name>#<ordinal>", ordinal from 1
    bool id_stated = false;
    Span span; ///< the whole puzzle; begins on the line readers should be sent to

    Stated<std::string> fen;   ///< as written
    board::FenReading reading; ///< of `fen`; fault offsets are relative to fen.span.begin
    /// The diagram the solver sees (after a lead-in move when the table has one). Empty when it cannot be
    /// played. Castling rights and en-passant squares that contradict the diagram are dropped here and
    /// reported from `reading`.
    std::optional<board::Position> position;
    board::SetupFaults setup_faults;            ///< of reading.setup
    std::optional<Stated<std::string>> lead_in; ///< the opponent's move before the diagram, as written

    std::vector<SideStatement> sides;    ///< every statement of the side to move, FEN first
    std::optional<Stated<Goal>> goal;    ///< only when stated
    bool goal_by_caption = false;        ///< no field states it, a caption does
    std::vector<Stated<Phrase>> demands; ///< what captions ask for: at most one each
    MoveTree solution;
    Span solution_span;    ///< movetext, bm operands or cell; empty when there is none
    bool key_only = false; ///< the source names key moves and no line (EPD bm without pv, a key tag)
    std::vector<Stated<std::string>> accepted; ///< further keys, SAN as written
    std::vector<Stated<std::string>> avoided;  ///< EPD am: moves said to be worse
    std::vector<Stated<std::string>> themes;   ///< as written
    std::vector<Allowance> allowances;
    std::vector<Field> fields; ///< everything else, in order
    std::vector<Fault> faults;

    [[nodiscard]] const Field* field(std::string_view name) const; ///< first of that name, case-insensitive
};

} // namespace collection
