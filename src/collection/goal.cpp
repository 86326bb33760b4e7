#include "collection/goal.hpp"

#include "collection/text.hpp"

#include <algorithm>
#include <array>
#include <vector>

namespace collection {

namespace {

constexpr int longest_mate = 999;

using Words = std::vector<std::string>;

/// Lower-case words; '#', '=' and '+' are words of their own, other signs are blanks.
Words goal_words(std::string_view text) {
    Words words;
    bool inside = false;
    for (const char c : lower(text)) {
        const bool minus = c == '-' && !words.empty() && words.back() == "#"; // "#-2" is no mate in 2
        const bool sign = c == '#' || c == '=' || c == '+' || minus;
        if (sign || !(is_letter(c) || is_digit(c))) {
            inside = false;
            if (sign) {
                words.emplace_back(1, c);
            }
            continue;
        }
        if (!inside || is_digit(c) != is_digit(words.back().back())) {
            words.emplace_back();
        }
        inside = true;
        words.back().push_back(c);
    }
    return words;
}

bool is_any(const std::string& word, std::initializer_list<std::string_view> list) {
    return std::find(list.begin(), list.end(), word) != list.end();
}

/// What a stipulation may say without meaning more.
bool is_filler(const std::string& word) {
    return is_any(word, {"the", "a", "an", "to", "and", "play", "plays", "move", "moves", "white", "black",
                         "find", "only", "with", "for", "force", "forced", "forces", "s"});
}

std::optional<int> read_number(const std::string& word) {
    constexpr std::array<std::string_view, 13> names{"zero", "one",    "two",   "three", "four",
                                                     "five", "six",    "seven", "eight", "nine",
                                                     "ten",  "eleven", "twelve"};
    const auto found = std::find(names.begin(), names.end(), word);
    if (found != names.end()) {
        return static_cast<int>(found - names.begin());
    }
    if (word.empty() || word.size() > 3 || !std::all_of(word.begin(), word.end(), is_digit)) {
        return std::nullopt;
    }
    return std::stoi(word);
}

std::optional<Goal> mate_in(const std::string& number) {
    const std::optional<int> moves = read_number(number);
    if (!moves || *moves < 1 || *moves > longest_mate) {
        return std::nullopt;
    }
    return Goal{GoalKind::mate, *moves, GoalUnit::pawn};
}

/// "h#2", "selfmate", "proof game": kinds of their own, however they go on.
bool is_another_kind(const Words& words) {
    if (words.size() > 1 && is_any(words[0], {"h", "s", "r", "hs", "hr", "sh", "ser", "semi", "pg", "spg"}) &&
        (is_any(words[1], {"#", "="}) || read_number(words[1]) || words[0] == "ser")) {
        return true;
    }
    return std::any_of(words.begin(), words.end(), [](const std::string& word) {
        return is_any(word, {"helpmate", "helpstalemate", "selfmate", "selfstalemate", "reflexmate", "reflex",
                             "series", "seriesmover", "proof", "retro", "retract", "retractor", "stalemate",
                             "construction"});
    });
}

/// "mate in 3", "#3", "3 mover", "three mover"; the fillers are gone.
std::optional<Goal> read_mate(const Words& words) {
    if (words.size() == 2 && words[0] == "#") {
        return mate_in(words[1]);
    }
    if (words.size() == 2 && is_any(words[1], {"mover", "movers", "#"})) {
        return mate_in(words[0]);
    }
    if (words.size() == 3 && is_any(words[0], {"mate", "mates", "checkmate", "checkmates"}) &&
        words[1] == "in") {
        return mate_in(words[2]);
    }
    return std::nullopt;
}

std::optional<GoalUnit> read_unit(const std::string& word) {
    if (is_any(word, {"queen"})) {
        return GoalUnit::queen;
    }
    if (is_any(word, {"rook"})) {
        return GoalUnit::rook;
    }
    if (is_any(word, {"exchange", "quality"})) {
        return GoalUnit::exchange;
    }
    if (is_any(word, {"piece", "knight", "bishop"})) {
        return GoalUnit::piece;
    }
    if (is_any(word, {"pawn", "material"})) { // material is won from a pawn on
        return GoalUnit::pawn;
    }
    return std::nullopt;
}

std::optional<Goal> read_win(const Words& words) {
    if (words.empty() || !is_any(words[0], {"win", "wins", "winning", "+"})) {
        return std::nullopt;
    }
    if (words.size() == 1) {
        return Goal{GoalKind::win, 0, GoalUnit::pawn};
    }
    const bool minor = words.size() == 3 && words[1] == "minor" && words[2] == "piece";
    const std::optional<GoalUnit> unit = read_unit(words.back());
    if (!unit || !(words.size() == 2 || minor)) {
        return std::nullopt;
    }
    return Goal{GoalKind::win_material, 0, *unit};
}

std::optional<Goal> read_single(const Words& words) {
    if (words.size() != 1) {
        return std::nullopt;
    }
    if (is_any(words[0], {"draw", "draws", "="})) {
        return Goal{GoalKind::draw, 0, GoalUnit::pawn};
    }
    if (is_any(words[0], {"hold", "holds", "defend", "defence"})) {
        return Goal{GoalKind::hold, 0, GoalUnit::pawn};
    }
    if (words[0] == "best") {
        return Goal{GoalKind::best, 0, GoalUnit::pawn};
    }
    return std::nullopt;
}

} // namespace

std::optional<Goal> read_goal(std::string_view text) {
    if (text.size() > 200) { // bytes; a stipulation is a phrase, not a page
        return std::nullopt;
    }
    Words words = goal_words(text);
    if (is_another_kind(words)) {
        return Goal{GoalKind::not_checked, 0, GoalUnit::pawn};
    }
    const bool only_move =
        words.size() >= 2 && words[words.size() - 2] == "only" && is_any(words.back(), {"move", "moves"});
    words.erase(std::remove_if(words.begin(), words.end(), is_filler), words.end());
    if (only_move && words.empty()) {
        return Goal{GoalKind::hold, 0, GoalUnit::pawn};
    }
    if (const auto mate = read_mate(words)) {
        return mate;
    }
    if (const auto win = read_win(words)) {
        return win;
    }
    return read_single(words);
}

std::string write_goal(Goal goal) {
    constexpr std::array<std::string_view, 5> units{"queen", "rook", "exchange", "piece", "pawn"};
    switch (goal.kind) {
    case GoalKind::mate:
        return "mate in " + std::to_string(goal.moves);
    case GoalKind::win:
        return "win";
    case GoalKind::win_material:
        return "win " + std::string(units[static_cast<std::size_t>(goal.unit)]);
    case GoalKind::draw:
        return "draw";
    case GoalKind::hold:
        return "hold";
    case GoalKind::best:
        return "best";
    case GoalKind::not_checked:
        break;
    }
    return "not checked";
}

int least_gain(GoalUnit unit) {
    switch (unit) {
    case GoalUnit::queen: // for a rook
    case GoalUnit::rook:  // for a pawn
        return 4;
    case GoalUnit::piece: // for a pawn
        return 2;
    case GoalUnit::exchange: // rook for minor piece and pawn
    case GoalUnit::pawn:
        break;
    }
    return 1;
}

} // namespace collection
