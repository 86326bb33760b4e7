#pragma once
// Small collections written on the fly, and what became of their puzzles in one line of text.

#include "history/compare.hpp"

#include <string>
#include <vector>

namespace puzzles {

struct Puzzle {
    std::string id; ///< empty: none stated
    std::string fen;
    std::string solution;
    std::string more; ///< further YAML, a line each
};

inline const std::string back_rank = "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1";
inline const std::string corner = "7k/5Q2/6K1/8/8/8/8/8 w - - 0 1";
inline const std::string edge = "k7/8/1K6/8/8/8/8/7R w - - 0 1";
inline const std::string opposition = "4k3/8/4K3/8/8/8/8/R7 w - - 0 1";

inline Puzzle one(std::string id) {
    return {std::move(id), back_rank, "1.Rd8#", ""};
}
inline Puzzle two(std::string id) {
    return {std::move(id), corner, "1.Qg7#", ""};
}
inline Puzzle three(std::string id) {
    return {std::move(id), edge, "1.Rh8#", ""};
}
inline Puzzle four(std::string id) {
    return {std::move(id), opposition, "1.Ra8#", ""};
}

[[nodiscard]] collection::Document yaml(const std::string& path, const std::vector<Puzzle>& puzzles);
[[nodiscard]] collection::Document read(const std::string& path, const std::string& text);

using Documents = std::vector<collection::Document>;

/// "a same, b changed (position, goal), +c, -d, e<f moved": ids of the later state, "<" and the earlier id
/// when it differs.
[[nodiscard]] std::string told(const std::vector<history::Pair>& pairs);
[[nodiscard]] std::string paired(const Documents& before, const Documents& after);

} // namespace puzzles
