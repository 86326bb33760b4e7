#include "rules/facts.hpp"

#include "rules/catalogue.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>

namespace rules {
namespace {

using solve::Answer;

/// Takes `word` off the front of `text`, a following blank too.
bool take(std::string_view& text, std::string_view word) {
    if (!text.starts_with(word)) {
        return false;
    }
    text.remove_prefix(word.size());
    text.remove_prefix(text.starts_with(' ') ? 1 : 0);
    return true;
}

std::optional<int> number_of(std::string_view word) {
    constexpr std::array<std::string_view, 12> words{"one",   "two",   "three", "four", "five",   "six",
                                                     "seven", "eight", "nine",  "ten",  "eleven", "twelve"};
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (words[i] == word) {
            return static_cast<int>(i) + 1;
        }
    }
    int number = 0;
    const auto [end, fault] = std::from_chars(word.data(), word.data() + word.size(), number);
    const bool whole = fault == std::errc() && end == word.data() + word.size();
    return whole && number >= 1 && number <= 99 ? std::optional(number) : std::nullopt;
}

std::optional<Fact> mate_fact(std::string_view text) {
    take(text, "check");
    if (!take(text, "mate")) {
        return std::nullopt;
    }
    Fact fact;
    if (text.empty()) {
        return fact;
    }
    if (!take(text, "in")) {
        return std::nullopt;
    }
    const std::string_view word = text.substr(0, text.find(' '));
    const auto moves = number_of(word);
    text.remove_prefix(word.size());
    if (!moves || (!text.empty() && text != " moves" && text != " move")) {
        return std::nullopt;
    }
    fact.moves = *moves;
    return fact;
}

std::optional<Fact> side_fact(std::string_view text) {
    Fact fact;
    fact.kind = Fact::Kind::to_move;
    fact.side = text.starts_with("black") ? board::Color::black : board::Color::white;
    const bool named = take(text, "white") || take(text, "black");
    return named && (text == "to move" || text == "to play") ? std::optional(fact) : std::nullopt;
}

std::optional<Fact> ending_fact(std::string_view text) {
    constexpr std::array all_roles{board::Role::pawn, board::Role::knight, board::Role::bishop,
                                   board::Role::rook, board::Role::queen};
    for (const board::Role role : all_roles) {
        std::string_view rest = text;
        if (take(rest, board::name(role)) && (rest == "ending" || rest == "endgame")) {
            Fact fact;
            fact.kind = Fact::Kind::ending;
            fact.role = role;
            return fact;
        }
    }
    return std::nullopt;
}

/// Solver's moves of the main line when it ends in his mate.
std::optional<int> printed_mate(const PuzzleView& view) {
    board::Position position = *view.position();
    int plies = 0;
    for (const std::size_t node : view.puzzle().solution.main_line()) {
        const board::Move move = view.puzzle().solution.nodes[node].move;
        if (!position.is_legal(move)) {
            return std::nullopt;
        }
        position = position.after(move);
        ++plies;
    }
    const bool mates = plies % 2 == 1 && position.is_checkmate();
    return mates ? std::optional((plies + 1) / 2) : std::nullopt;
}

std::string mate_text(int moves) {
    return fmt::format("mate in {}", moves);
}

FactVerdict judge_mate(const PuzzleView& view, int moves) {
    const auto printed = printed_mate(view);
    const solve::KeyTable& table = view.table();
    const bool any = moves == 0;
    if ((printed && (any || *printed == moves)) ||
        (table.shortest_mate && (any || *table.shortest_mate == moves))) {
        return {Answer::yes, {}};
    }
    if (printed) {
        return {Answer::no, fmt::format("the line shows a {}", mate_text(*printed))};
    }
    if (table.shortest_mate && table.mate_search_complete) {
        return {Answer::no, fmt::format("the shortest is a {}", mate_text(*table.shortest_mate))};
    }
    const bool excluded = !any && table.mate_search_complete && table.mate_searched_to >= moves;
    return {excluded ? Answer::no : Answer::open, fmt::format("there is no {}", mate_text(moves))};
}

FactVerdict judge_ending(const board::Position& position, board::Role role) {
    const board::Bitboard bare = position.pieces(board::Role::king) | position.pieces(board::Role::pawn);
    const board::Bitboard named = position.pieces(role);
    const board::Bitboard others = position.occupied() & ~bare & ~named;
    if (others.any()) {
        const auto other = *position.at(others.first());
        return {Answer::no,
                fmt::format("there is a {} on {}", board::name(other.role), board::name(others.first()))};
    }
    return named.any()
               ? FactVerdict{Answer::yes, {}}
               : FactVerdict{Answer::no, fmt::format("there is no {} on the board", board::name(role))};
}

} // namespace

std::optional<Fact> fact_of(std::string_view theme) {
    const std::string text = folded(theme);
    if (const auto fact = mate_fact(text)) {
        return fact;
    }
    if (const auto fact = side_fact(text)) {
        return fact;
    }
    return ending_fact(text);
}

FactVerdict judge_fact(const PuzzleView& view, const Fact& fact) {
    switch (fact.kind) {
    case Fact::Kind::mate:
        return judge_mate(view, fact.moves);
    case Fact::Kind::to_move:
        return view.solver_side() == fact.side ? FactVerdict{Answer::yes, {}}
                                               : FactVerdict{Answer::no, "the other side is to move"};
    case Fact::Kind::ending:
        return judge_ending(*view.position(), fact.role);
    }
    return {};
}

} // namespace rules
