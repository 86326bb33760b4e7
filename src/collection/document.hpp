#pragma once
// One file read: its bytes, its puzzles, its faults.

#include "collection/puzzle.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace collection {

enum class Format : std::uint8_t { none, pgn, epd, yaml, table };

/// How a table's columns are named (`tables:` in the configuration).
struct TableMapping {
    std::string files;                                                   ///< glob
    std::string id, fen, solution, goal, themes, accept, to_move, allow; ///< column names; empty: not there
    enum class Moves : std::uint8_t { san, coordinate } moves = Moves::san;
    enum class FirstMove : std::uint8_t { solver, opponent } first_move = FirstMove::solver;
    std::string theme_separator = ",";
    bool key_only = false; ///< the solution column names key moves, separated by blanks, not a line
};

/// PGN tags that mean something else than the standard says (`tags:` in the configuration).
struct TagMapping {
    std::string files; ///< glob
    std::string id, key, goal,
        themes; ///< tag names; empty: the usual one. `key`: the tag holds key moves, separated by blanks
    std::string key_prefix; ///< dropped from the key tag's value: "Key:"
};

struct ReadOptions {
    std::vector<TableMapping> tables; ///< the last whose glob fits counts
    std::vector<TagMapping> tags;
};

/// Bounds on hostile input; exceeding one is a Fault of kind limit.
inline constexpr std::size_t max_file_bytes = std::size_t{256} << 20U;
inline constexpr std::size_t max_line_bytes = std::size_t{1} << 20U;
inline constexpr std::size_t max_puzzles = 500'000; ///< a file; some 2 KB of memory each
inline constexpr std::size_t max_faults = 10'000;
inline constexpr std::size_t max_tree_nodes = 20'000;
inline constexpr std::size_t max_variation_depth = 64;

struct Document {
    std::string path;  ///< relative to the repository's root, with '/'
    std::string bytes; ///< as read; spans point into it
    LineIndex lines;
    Format format = Format::none;             ///< none: not a puzzle file, which is no fault
    std::optional<Stated<std::string>> title; ///< what the collection calls itself
    std::vector<Puzzle> puzzles;
    std::vector<Fault> faults;         ///< of the file as a whole
    std::size_t faults_in_puzzles = 0; ///< beyond max_faults those of further puzzles are not kept

    [[nodiscard]] Place place(std::size_t offset) const { return lines.place(bytes, offset); }
};

/// By extension, then by content; a table only when a mapping fits; a .yaml only when it has `puzzles:`.
[[nodiscard]] Format format_of(std::string_view path, std::string_view bytes, const ReadOptions& options);
/// Reads any bytes. Never throws, never fails as a whole.
[[nodiscard]] Document read(std::string path, std::string bytes, const ReadOptions& options);

/// Stands in for a file whose bytes could not be had: no puzzles, one fault that says why.
[[nodiscard]] Document unreadable(std::string path, std::string why, std::string cure);

/// `*` within a path part, `**` across, `?` one character; case-sensitive. A pattern without '/' fits any
/// file of that name.
[[nodiscard]] bool glob_matches(std::string_view pattern, std::string_view path);

} // namespace collection
