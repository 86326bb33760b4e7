#include "app/key_table_text.hpp"

#include "app/words.hpp"
#include "board/san.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

namespace app {
namespace {

std::string value_of(const solve::MoveVerdict& verdict) {
    if (verdict.value.mate_in) {
        const int moves = *verdict.value.mate_in;
        const bool exact = verdict.value_is == solve::ValueIs::exact;
        return moves > 0 ? fmt::format("mate in {}{}", exact ? "" : "<= ", moves)
                         : fmt::format("mated in {}", -moves);
    }
    constexpr int beyond = 5'000; // a bound that says no more than "no mate"
    const bool says_nothing =
        verdict.value_is != solve::ValueIs::exact && std::abs(verdict.value.score) >= beyond;
    if (verdict.standing == solve::Standing::open || says_nothing) {
        return "-";
    }
    const std::string_view bound = verdict.value_is == solve::ValueIs::exact     ? ""
                                   : verdict.value_is == solve::ValueIs::at_most ? "<= "
                                                                                 : ">= ";
    return fmt::format("{}{:+.2f}", bound, verdict.value.score / 100.0);
}

std::string standing_of(const solve::MoveVerdict& verdict, bool has_key) {
    switch (verdict.standing) {
    case solve::Standing::key:
        return has_key ? verdict.reaches_goal == solve::Answer::no ? "key, falls short" : "key" : "best";
    case solve::Standing::as_good:
        return "as good";
    case solve::Standing::also_wins:
        return "reaches the goal, but clearly less";
    case solve::Standing::less:
        return "clearly less";
    case solve::Standing::falls_short:
        return "falls short";
    case solve::Standing::better:
        return "better";
    case solve::Standing::open:
        break;
    }
    return "open";
}

} // namespace

std::string key_table_text(const board::Position& position, const solve::KeyTable& table, bool has_key,
                           std::size_t most) {
    const std::size_t told = most == 0 || table.moves.size() <= most ? table.moves.size() : most;
    std::vector<std::vector<std::string>> rows{{"move", "verdict", "known", "value", "line"}};
    std::size_t widest = rows.front()[3].size();
    for (std::size_t i = 0; i < told; ++i) {
        const solve::MoveVerdict& verdict = table.moves[i];
        rows.push_back({board::write_san(position, verdict.move), standing_of(verdict, has_key),
                        std::string(solve::name(verdict.certainty)), value_of(verdict),
                        board::write_line(position, verdict.line)});
        widest = std::max(widest, rows.back()[3].size());
    }
    for (auto& row : rows) {
        row[3] = fmt::format("{:>{}}", row[3], widest); // numbers stand at the right
    }
    const std::size_t left = table.moves.size() - told;
    return in_columns(rows) + (left == 0 ? "" : fmt::format("and {} more\n", left));
}

} // namespace app
