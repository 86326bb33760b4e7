#pragma once
// Changing a field in place: the bytes to write so that the format's reader finds another text there.

#include "collection/document.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace collection {

struct Edit {
    Span span;         ///< of the document; what stands there goes
    std::string bytes; ///< what comes in its place, quoted and escaped as the place needs it
    friend bool operator==(const Edit&, const Edit&) = default;
};

/// Writes `text` where a field of the puzzle reads `old` at `span`. The edit may take in the whole value when
/// it has to be put into quotes. Nothing when the place does not read `old`, when it lies outside the puzzle
/// (a value that a file gives to all its puzzles), or when it cannot hold the text. Neither text may hold a
/// line end.
[[nodiscard]] std::optional<Edit> replacing(const Document& document, const Puzzle& puzzle, Span span,
                                            std::string_view old, std::string_view text);

/// `bytes` with the edits made, which are sorted and do not overlap.
[[nodiscard]] std::string edited(std::string_view bytes, std::span<const Edit> edits);

// Beside the reader of each format.
[[nodiscard]] std::optional<Edit> replacing_in_pgn(const Document& document, const Puzzle& puzzle, Span span,
                                                   std::string_view old, std::string_view text);
[[nodiscard]] std::optional<Edit> replacing_in_epd(const Document& document, Span span, std::string_view old,
                                                   std::string_view text);
[[nodiscard]] std::optional<Edit> replacing_in_table(const Document& document, const Puzzle& puzzle,
                                                     Span span, std::string_view old, std::string_view text);
[[nodiscard]] std::optional<Edit> replacing_in_yaml(const Document& document, const Puzzle& puzzle, Span span,
                                                    std::string_view old, std::string_view text);

} // namespace collection
