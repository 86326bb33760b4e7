#include "board/san.hpp"
#include "collection/text.hpp"
#include "history/describe.hpp"
#include "history/meaning.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace history {

namespace {

using collection::MoveStatus;
using collection::Puzzle;
using collection::TreeNode;
using Path = std::vector<std::size_t>; ///< nodes from the root, the root left out

/// First children, whatever their status.
Path main_path(const Puzzle& puzzle) {
    Path path;
    for (std::size_t node = 0; !puzzle.solution.nodes[node].children.empty();) {
        node = puzzle.solution.nodes[node].children.front();
        path.push_back(node);
    }
    return path;
}

/// What a move is, whatever way it is written.
std::string move_name(const TreeNode& node) {
    return node.status == MoveStatus::legal ? board::write_coordinate(node.move) : node.text;
}

std::string name_of(const Puzzle& puzzle, const Path& path) {
    std::string name;
    for (const std::size_t node : path) {
        name += move_name(puzzle.solution.nodes[node]) + ' ';
    }
    return name;
}

/// The moves of `path` from the one at `first` on, numbered as played from the diagram.
std::string text_of(const Puzzle& puzzle, const Path& path, std::size_t first = 0) {
    if (first >= path.size()) {
        return "nothing";
    }
    std::vector<board::Move> moves;
    std::optional<board::Position> position = puzzle.position;
    std::string written;
    for (std::size_t i = 0; i < path.size(); ++i) {
        const TreeNode& node = puzzle.solution.nodes[path[i]];
        if (node.status != MoveStatus::legal) {
            position.reset();
        }
        if (i >= first) {
            moves.push_back(node.move);
            written += (written.empty() ? "" : " ") + node.text;
        } else if (position) {
            position->make(node.move);
        }
    }
    return position ? board::write_line(*position, moves) : written;
}

bool written_alike(const Puzzle& a, const Path& one, const Puzzle& b, const Path& other) {
    return std::equal(one.begin(), one.end(), other.begin(), other.end(), [&](std::size_t x, std::size_t y) {
        return a.solution.nodes[x].text == b.solution.nodes[y].text;
    });
}

bool can_be_played(const Puzzle& puzzle, const Path& path) {
    return std::all_of(path.begin(), path.end(), [&](std::size_t node) {
        return puzzle.solution.nodes[node].status == MoveStatus::legal;
    });
}

/// Every line to a move without a successor, the main line left out, with the moves before it.
std::vector<Path> variations_of(const Puzzle& puzzle) {
    std::vector<Path> lines;
    const auto& nodes = puzzle.solution.nodes;
    const Path main = main_path(puzzle);
    for (std::size_t node = 1; node < nodes.size(); ++node) {
        if (!nodes[node].children.empty()) {
            continue;
        }
        Path path;
        for (std::size_t at = node; at != 0; at = nodes[at].parent) {
            path.push_back(at);
        }
        std::reverse(path.begin(), path.end());
        if (path != main) {
            lines.push_back(std::move(path));
        }
    }
    return lines;
}

std::string shortened(std::string_view text) {
    constexpr std::size_t most = 60;
    std::string flat(collection::trim(text));
    std::replace_if(flat.begin(), flat.end(), collection::is_blank, ' ');
    if (flat.size() <= most) {
        return flat;
    }
    std::size_t end = most;
    while (end > 0 && (static_cast<unsigned char>(flat[end]) & 0xc0U) == 0x80) {
        --end;
    }
    return flat.substr(0, end) + "...";
}

std::string marks_of(const TreeNode& node) {
    std::string marks;
    for (const int glyph : node.glyphs) {
        constexpr std::array<std::string_view, 7> signs{"", "!", "?", "!!", "??", "!?", "?!"};
        const bool sign = glyph > 0 && static_cast<std::size_t>(glyph) < signs.size();
        marks += (marks.empty() ? "" : " ") +
                 (sign ? std::string(signs[static_cast<std::size_t>(glyph)]) : fmt::format("${}", glyph));
    }
    return marks.empty() ? "no mark" : marks;
}

std::string comments_of(const TreeNode& node) {
    std::string text;
    for (const collection::Comment& comment : node.comments) {
        text += (text.empty() ? "" : " ") + comment.text;
    }
    return shortened(text);
}

/// Nodes by the moves that lead to them; of moves that stand twice the first.
std::map<std::string, std::size_t> by_moves(const Puzzle& puzzle) {
    const auto& nodes = puzzle.solution.nodes;
    std::vector<std::string> names(nodes.size());
    std::map<std::string, std::size_t> result{{"", 0}};
    for (std::size_t node = 1; node < nodes.size(); ++node) {
        names[node] = names[nodes[node].parent] + move_name(nodes[node]) + ' ';
        result.emplace(names[node], node);
    }
    return result;
}

Path path_to(const Puzzle& puzzle, std::size_t node) {
    Path path;
    for (; node != 0; node = puzzle.solution.nodes[node].parent) {
        path.push_back(node);
    }
    std::reverse(path.begin(), path.end());
    return path;
}

void compare_main_lines(const Puzzle& before, const Puzzle& after, std::vector<std::string>& words) {
    const Path was = main_path(before);
    const Path is = main_path(after);
    std::size_t same = 0;
    while (same < was.size() && same < is.size() &&
           move_name(before.solution.nodes[was[same]]) == move_name(after.solution.nodes[is[same]])) {
        ++same;
    }
    if (same == was.size() && same == is.size()) {
        return;
    }
    if (written_alike(before, was, after, is)) {
        words.emplace_back(can_be_played(before, was) ? "the same moves no longer fit the position"
                           : can_be_played(after, is) ? "the same moves fit the position now"
                                                      : "the same moves do not fit the position");
        return;
    }
    if (same == 0 && !was.empty() && !is.empty()) {
        words.push_back(fmt::format("key {} instead of {}", after.solution.nodes[is.front()].text,
                                    before.solution.nodes[was.front()].text));
    }
    words.push_back(
        is.empty()           ? "the solution is gone"
        : was.empty()        ? fmt::format("solution {}", text_of(after, is))
        : same == was.size() ? fmt::format("the main line goes on with {}", text_of(after, is, same))
        : same == is.size()  ? fmt::format("the main line ends before {}", text_of(before, was, same))
                             : fmt::format("main line {} instead of {}", text_of(after, is, same),
                                           text_of(before, was, same)));
}

constexpr std::size_t most_told = 5;

/// Variations of `a` whose moves `b` does not have.
void tell_variations(const Puzzle& a, const std::map<std::string, std::size_t>& b, std::string_view what,
                     std::vector<std::string>& words) {
    std::size_t told = 0;
    for (const Path& path : variations_of(a)) {
        if (b.contains(name_of(a, path)) || ++told > most_told) {
            continue;
        }
        words.push_back(fmt::format("variation {} {}", text_of(a, path), what));
    }
    if (told > most_told) {
        words.push_back(fmt::format("{} more variations {}", told - most_told, what));
    }
}

void compare_annotations(const Puzzle& before, const Puzzle& after, std::vector<std::string>& words) {
    const auto was = by_moves(before);
    std::size_t told = 0;
    for (const auto& [moves, node] : by_moves(after)) {
        const auto found = was.find(moves);
        if (found == was.end()) {
            continue;
        }
        const TreeNode& old = before.solution.nodes[found->second];
        const TreeNode& now = after.solution.nodes[node];
        const std::string where =
            node == 0 ? "before the first move" : "after " + text_of(after, path_to(after, node));
        if (old.glyphs != now.glyphs && ++told <= most_told) {
            words.push_back(fmt::format("{} instead of {} {}", marks_of(now), marks_of(old), where));
        }
        if (comments_of(old) != comments_of(now) && ++told <= most_told) {
            words.push_back(comments_of(now).empty()
                                ? fmt::format("comment {} dropped", where)
                                : fmt::format("comment {}: {}", where, comments_of(now)));
        }
    }
    if (told > most_told) {
        words.push_back(fmt::format("{} more marks and comments", told - most_told));
    }
}

} // namespace

std::vector<std::string> describe_solution(const Puzzle& before, const Puzzle& after) {
    std::vector<std::string> words;
    compare_main_lines(before, after, words);
    tell_variations(after, by_moves(before), "new", words);
    tell_variations(before, by_moves(after), "gone", words);
    compare_annotations(before, after, words);
    if (words.empty()) {
        words.emplace_back("other order of variations");
    }
    return words;
}

std::string main_line_text(const Puzzle& puzzle) {
    return text_of(puzzle, main_path(puzzle));
}

} // namespace history
