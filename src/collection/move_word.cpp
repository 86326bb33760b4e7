#include "collection/move_word.hpp"

#include "board/san.hpp"
#include "collection/glyphs.hpp"
#include "collection/text.hpp"

#include <algorithm>
#include <array>

namespace collection {

std::size_t blank_length(std::string_view text, std::size_t at) {
    if (is_blank(text[at]) || text[at] == ',') {
        return 1;
    }
    constexpr std::string_view no_break = "\xc2\xa0";
    constexpr std::string_view zero_width_no_break = "\xef\xbb\xbf";
    for (const std::string_view blank : {no_break, zero_width_no_break}) {
        if (text.substr(at, blank.size()) == blank) {
            return blank.size();
        }
    }
    return 0;
}

std::string_view result_of(std::string_view word) {
    if (word.empty() || is_letter(word.front())) {
        return {}; // nearly all words
    }
    if (word == "1-0" || word == "1–0") {
        return "1-0";
    }
    if (word == "0-1" || word == "0–1") {
        return "0-1";
    }
    if (word == "1/2-1/2" || word == "1/2–1/2" || word == "½-½" || word == "½–½" || word == "1/2" ||
        word == "½") {
        return "1/2-1/2";
    }
    return {};
}

std::optional<board::Role> man_meant(std::string_view word) {
    if (word.size() != 2 || word.back() != '~') {
        return std::nullopt;
    }
    switch (word.front()) {
    case 'K':
        return board::Role::king;
    case 'Q':
    case 'D':
        return board::Role::queen;
    case 'R':
    case 'T':
        return board::Role::rook;
    case 'B':
    case 'L':
        return board::Role::bishop;
    case 'N':
    case 'S':
        return board::Role::knight;
    case 'P':
        return board::Role::pawn;
    default:
        return std::nullopt;
    }
}

bool stands_for_all(std::string_view word) {
    constexpr std::array<std::string_view, 4> words{"~", "any", "else", "beliebig"};
    return man_meant(word) || std::find(words.begin(), words.end(), word) != words.end();
}

std::size_t variation_end(std::string_view text, std::size_t at) {
    std::size_t depth = 0;
    while (at < text.size()) {
        const char c = text[at];
        if (c == '{') {
            at = std::min(text.find('}', at), text.size() - 1);
        } else if (c == ';') {
            at = line_end(text, at) - 1;
        } else if (c == '(') {
            ++depth;
        } else if (c == ')' && --depth == 0) {
            return at + 1;
        }
        at = std::min(find_any(text, "{;()", at + 1), text.size());
    }
    return at;
}

bool joins_moves(std::string_view word) {
    return word == "or" || word == "oder";
}

int number_of(std::string_view digits) {
    constexpr int most = 1'000'000;
    int number = 0;
    for (const char c : digits) {
        number = std::min(number * 10 + (c - '0'), most);
    }
    return number;
}

namespace {

bool legible(std::string_view text, Notation notation) {
    return read_move(nullptr, text, notation).status != MoveStatus::unreadable;
}

} // namespace

MoveWord cut_word(std::string_view word, Notation notation) {
    Suffix suffix = read_suffix(word);
    const std::string_view core = word.substr(0, word.size() - suffix.length);
    const std::size_t digits = std::min(core.find_first_not_of("0123456789"), core.size());
    if (digits > 0 && legible(core.substr(digits), notation)) {
        return {std::string(core.substr(digits)), digits,
                suffix.glyphs}; // "12Qd4": no move begins with a number
    }
    std::string_view move = core;
    if (legible(move, notation) || move.empty()) {
        return {std::string(move), 0, suffix.glyphs};
    }
    while (!move.empty() && (move.back() == '.' || move.back() == ':')) {
        move.remove_suffix(1);
    }
    if (legible(move, notation)) {
        return {std::string(move), 0, suffix.glyphs};
    }
    const Suffix value = read_evaluation(move);
    std::vector<int> glyphs = value.glyphs;
    glyphs.insert(glyphs.end(), suffix.glyphs.begin(), suffix.glyphs.end());
    move.remove_suffix(value.length);
    if (value.length > 0 && (move.empty() || legible(move, notation))) {
        return {std::string(move), 0, glyphs};
    }
    return {std::string(core), 0, suffix.glyphs};
}

std::size_t raw_length(std::string_view raw, std::size_t length) {
    std::size_t at = 0;
    for (std::size_t done = 0; done < length && at < raw.size();) {
        const Character c = character_at(raw, at);
        done += to_utf8(raw.substr(at, c.length)).size();
        at += c.length;
    }
    return at;
}

namespace {

PlayedMove read_coordinates(const board::Position* position, std::string_view text) {
    const auto square = [text](std::size_t at) {
        return board::read_square(text.substr(std::min(at, text.size()), 2));
    };
    const std::size_t second = text.size() > 2 && text[2] == '-' ? 3 : 2;
    if (!square(0) || !square(second) || text.size() > second + 4) {
        return {};
    }
    const std::optional<board::Move> move =
        position == nullptr ? std::nullopt : board::read_coordinate(*position, text);
    return move ? PlayedMove{*move, MoveStatus::legal} : PlayedMove{board::Move(), MoveStatus::illegal};
}

PlayedMove read_san_move(const board::Position* position, std::string_view text) {
    const std::optional<board::San> san = board::read_san(text);
    if (!san) {
        return {};
    }
    if (san->null || position == nullptr) {
        return {board::Move(), san->null ? MoveStatus::null : MoveStatus::unchecked};
    }
    const auto resolved = board::resolve(*position, *san);
    if (resolved) {
        return {*resolved, MoveStatus::legal};
    }
    const bool ambiguous = resolved.error().fault == board::SanFault::ambiguous;
    return {board::Move(), ambiguous ? MoveStatus::ambiguous : MoveStatus::illegal};
}

} // namespace

PlayedMove read_move(const board::Position* position, std::string_view text, Notation notation) {
    if (stands_for_all(text)) {
        return {board::Move(), MoveStatus::any};
    }
    const PlayedMove coordinates =
        notation == Notation::san_only ? PlayedMove{} : read_coordinates(position, text);
    if (coordinates.status == MoveStatus::legal || notation == Notation::coordinate) {
        return coordinates;
    }
    const PlayedMove san = read_san_move(position, text);
    return san.status == MoveStatus::unreadable ? coordinates : san;
}

} // namespace collection
