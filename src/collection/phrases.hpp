#pragma once
// Sentences that claim something plainly: "White to move and mate in two", "wins the exchange". Their words
// are data (rules/phrases/, a file a language), compiled in and read once. The reader stands in this room,
// because what a caption says belongs to a puzzle as its author wrote it; what it is worth is the rules'
// matter. It is held back on purpose: what is denied, conditional, asked or about another move is no claim.

#include "board/result.hpp"
#include "board/square.hpp"
#include "collection/goal.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace collection {

enum class PhraseKind : std::uint8_t {
    side_to_move,
    mate, ///< in `number`
    win,
    win_sign, ///< "+": White wins, whoever moves first
    draw,
    draw_sign,
    hold,
    unit,  ///< wins `unit`
    loss,  ///< loses `unit`
    ahead, ///< is `unit` ahead
    only_move,
    no_difference, ///< other replies lead to the same
    count,         ///< `number` puzzles
    other_kind,    ///< helpmate, proof game ...: never tested
};

enum class PhraseUnit : std::uint8_t { pawn, piece, exchange, rook, queen, material };
[[nodiscard]] std::string_view name(PhraseUnit unit); ///< "pawn", "exchange"

/// A claim and the bytes of the text that make it.
struct Phrase {
    PhraseKind kind = PhraseKind::side_to_move;
    std::optional<board::Color> side; ///< when it is named
    int number = 0;
    PhraseUnit unit = PhraseUnit::pawn;
    std::size_t begin = 0;
    std::size_t end = 0;
    bool of_lines = false; ///< asks for nothing when it stands over a diagram
    bool doubted = false;  ///< its sentence denies, asks, makes conditions or speaks of moves
};

struct PhrasesRead {
    std::vector<Phrase> phrases; ///< in order of the text
    bool doubtful = false;       ///< some sentence of the text is: so it may speak of another line
};

/// Texts longer than a few thousand bytes are taken for essays and claim nothing.
[[nodiscard]] PhrasesRead read_phrases(std::string_view text);

/// Languages whose phrases are compiled in: "de", "en". An error is a fault of ours, found by the tests.
[[nodiscard]] board::Result<std::vector<std::string>, std::string> phrase_languages();

} // namespace collection
