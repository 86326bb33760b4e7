#pragma once
// Published positions for the solver: tables of fields, positions from text, games played out.

#include "solve/solver.hpp"

#include "from_text.hpp"

#include <algorithm>
#include <fstream>
#include <string>
#include <string_view>
#include <vector>

namespace solve_reference {

using from_text::move;
using from_text::position;

/// "a b c" or "a; b" at any of the letters of `cuts`, without empty parts.
inline std::vector<std::string> parts(std::string_view text, std::string_view cuts) {
    std::vector<std::string> found;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find_first_of(cuts), text.size());
        if (end > 0) {
            found.emplace_back(text.substr(0, end));
        }
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return found;
}

/// The position after the moves, numbers among them ignored.
inline board::Position after(board::Position position, std::string_view moves) {
    for (const std::string& word : parts(moves, " ")) {
        if (word.back() != '.') {
            position.make(move(position, word));
        }
    }
    return position;
}

/// SAN without signs, sorted.
inline std::vector<std::string> sans(const board::Position& position, const std::vector<board::Move>& moves) {
    std::vector<std::string> texts;
    for (const board::Move m : moves) {
        texts.push_back(board::write_san(position, m));
    }
    std::sort(texts.begin(), texts.end());
    return texts;
}

/// The rows of a file in tests/reference/data: fields between tabs, empty ones kept; lines with # are not
/// rows.
inline std::vector<std::vector<std::string>> rows(const std::string& file) {
    std::ifstream lines(std::string(SIDELINT_SOURCE_DIR) + "/tests/reference/data/" + file);
    REQUIRE(lines);
    std::vector<std::vector<std::string>> found;
    for (std::string line; std::getline(lines, line);) {
        if (line.empty() || line[0] == '#') {
            continue;
        }
        std::vector<std::string> fields(1);
        for (const char c : line) {
            if (c == '\t') {
                fields.emplace_back();
            } else {
                fields.back() += c;
            }
        }
        found.push_back(fields);
    }
    return found;
}

#ifdef NDEBUG
inline constexpr std::size_t every = 1;
#else
inline constexpr std::size_t every = 12; // unoptimised builds look at one row in so many
#endif

/// Enough for a mate in three to four.
inline constexpr solve::Budget ample{.mate = 3'000'000,
                                     .value = 100'000,
                                     .question = 60'000,
                                     .puzzle = 10'000'000,
                                     .mate_moves = 3,
                                     .table_men = 0,
                                     .depth = 6};

} // namespace solve_reference
