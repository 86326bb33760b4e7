#include "app/problem_text.hpp"

#include "board/san.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace app {
namespace {

using board::Move;
using board::Position;
using solve::Continuations;
using solve::Problem;
using solve::Ways;

using Items = std::vector<std::string>;

constexpr std::size_t widest_line = 100;
constexpr std::size_t label_width = 16;
constexpr std::size_t most_named = 6;        // unprovided replies that are worth naming
constexpr std::size_t most_replies_told = 3; // and of those that leave the threat

/// "  tries           1.Qb6? Kc8!; 1.Qc5? Kc8!", broken between items; nothing without items.
std::string row(std::string_view label, const Items& items) {
    std::string text;
    const std::string indent(label_width + 2, ' ');
    std::string line = fmt::format("  {:<{}}", label, label_width);
    for (std::size_t i = 0; i < items.size(); ++i) {
        const bool first = line.size() == indent.size();
        const std::string item = items[i] + (i + 1 < items.size() ? ";" : "");
        if (!first && line.size() + 1 + item.size() > widest_line) {
            text += line + '\n';
            line = indent + item;
        } else {
            line += (first ? "" : " ") + item;
        }
    }
    return items.empty() ? "" : text + line + '\n';
}

std::string sans(const Position& position, const std::vector<Move>& moves, std::string_view between) {
    Items words;
    for (const Move move : moves) {
        words.push_back(board::write_san(position, move));
    }
    return fmt::format("{}", fmt::join(words, between));
}

/// Before a move in `position`: "2." or "2...".
std::string number(const Position& position, int later = 0) {
    return fmt::format("{}{}", position.fullmove() + later,
                       position.turn() == board::Color::white ? "." : "...");
}

/// Before the answer to a reply in `position`: nothing where the same number goes on.
std::string next_number(const Position& position) {
    return position.turn() == board::Color::white ? "" : fmt::format("{}.", position.fullmove() + 1);
}

std::string squares(std::string_view word, const std::vector<board::Square>& list) {
    Items names;
    for (const board::Square square : list) {
        names.push_back(board::name(square));
    }
    return fmt::format("{} {} {}", word, list.size() == 1 ? "flight" : "flights", fmt::join(names, ", "));
}

/// Replies that are met alike: "1...Kc7, Kc8 2.Qe8#" or "1...Kf1 2.Qa1# or Qd1#".
class Lines {
  public:
    explicit Lines(const Position& position) : m_position(position) {}
    void add(Move reply, const std::string& answer) {
        ++m_replies;
        const std::string san = board::write_san(m_position, reply);
        const auto found = std::find_if(m_lines.begin(), m_lines.end(),
                                        [&](const auto& line) { return line.second == answer; });
        if (found != m_lines.end()) {
            found->first += ", " + san;
        } else {
            m_lines.emplace_back(san, answer);
        }
    }
    [[nodiscard]] std::size_t replies() const { return m_replies; }
    [[nodiscard]] Items items() const {
        Items items;
        for (const auto& [replies, answer] : m_lines) {
            items.push_back(
                fmt::format("{}{} {}{}", number(m_position), replies, next_number(m_position), answer));
        }
        return items;
    }

  private:
    const Position& m_position;
    std::vector<std::pair<std::string, std::string>> m_lines; ///< replies and their common answer
    std::size_t m_replies = 0;
};

/// Replies that neither parry the threat nor make a dual; many of them are only counted.
Items by_custom(const Lines& unparried) {
    Items items = unparried.items();
    if (items.size() > most_replies_told) {
        return {fmt::format("by custom none: {} replies leave the threat and more", unparried.replies())};
    }
    if (!items.empty()) {
        items.front().insert(0, "by custom none: ");
        items.back() += ", the threat stands";
    }
    return items;
}

class Writer {
  public:
    Writer(const Position& position, const Problem& problem)
        : m_position(position), m_after(position.after(problem.key)), m_problem(problem) {}

    [[nodiscard]] std::string write() const {
        return fmt::format("Problem play of {} (proved)\n",
                           board::write_line(m_position, {{m_problem.key}})) +
               key() + threats() + set_play() + changes() + tries() + duals() + open();
    }

  private:
    [[nodiscard]] std::string key() const;
    [[nodiscard]] std::string threats() const;
    [[nodiscard]] std::string set_play() const;
    [[nodiscard]] std::string changes() const;
    [[nodiscard]] std::string tries() const;
    [[nodiscard]] std::string duals() const;
    [[nodiscard]] std::string open() const;

    /// "Qa1# or Qd1#"; the length where it is neither seen nor expected.
    [[nodiscard]] std::string answer(const Position& position, const Continuations& moves) const {
        const bool told = moves.length > 1 && moves.length < m_problem.moves - 1;
        return sans(position, moves.moves, " or ") + (told ? fmt::format(" (mate in {})", moves.length) : "");
    }
    [[nodiscard]] const solve::SetMate* changed(Move reply) const;

    const Position& m_position;
    Position m_after;
    const Problem& m_problem;
};

std::string Writer::key() const {
    Items items;
    if (m_problem.key_checks) {
        items.emplace_back("gives check");
    }
    if (m_problem.is_block()) {
        items.emplace_back("block, no threat");
    }
    if (m_problem.key_captures) {
        items.emplace_back("captures");
    }
    if (!m_problem.flights_taken.empty()) {
        items.push_back(squares("takes the", m_problem.flights_taken));
    }
    if (!m_problem.flights_given.empty()) {
        items.push_back(squares("gives the", m_problem.flights_given));
    }
    return row("key", items);
}

std::string Writer::threats() const {
    if (!m_problem.threats || m_problem.is_block()) {
        return {};
    }
    const bool one = m_problem.threats->moves.size() == 1;
    return row(one ? "threat" : "threats",
               {number(m_position, 1) + answer(*m_after.passed(), *m_problem.threats)});
}

std::string Writer::set_play() const {
    if (!m_problem.set_play) {
        return m_position.in_check() ? row("set play", {"none, the diagram is a check"}) : "";
    }
    const solve::SetPlay& play = *m_problem.set_play;
    const Position passed = *m_position.passed();
    Lines lines(passed);
    for (const solve::SetMate& mate : play.mates) {
        lines.add(mate.reply, answer(passed.after(mate.reply), mate.answer));
    }
    Items items = lines.items();
    if (items.empty()) {
        return row("set play", {"none"});
    }
    const std::size_t bare = play.unprovided.size();
    if (play.complete_block()) {
        items.front().insert(0, "complete block: ");
    } else if (bare <= most_named) {
        items.push_back("no set mate after " + sans(passed, play.unprovided, ", "));
    } else {
        items.push_back(fmt::format("no set mate after {} other moves", bare));
    }
    return row("set play", items);
}

const solve::SetMate* Writer::changed(Move reply) const {
    const auto& mates = m_problem.set_play->mates;
    const auto found = std::find_if(mates.begin(), mates.end(),
                                    [&](const auto& mate) { return mate.changed && mate.reply == reply; });
    return found == mates.end() ? nullptr : &*found;
}

std::string Writer::changes() const {
    if (!m_problem.set_play || !m_problem.variations) {
        return {};
    }
    const Position passed = *m_position.passed();
    Lines lines(m_after);
    for (const solve::Variation& variation : *m_problem.variations) {
        if (const solve::SetMate* set = changed(variation.reply)) {
            lines.add(variation.reply, answer(m_after.after(variation.reply), variation.answer) + " for " +
                                           answer(passed.after(set->reply), set->answer));
        }
    }
    return row(m_problem.is_mutate() ? "changed, mutate" : "changed mates", lines.items());
}

std::string Writer::tries() const {
    Items items;
    for (const solve::Try& tried : m_problem.tries) {
        const Position after = m_position.after(tried.move);
        const std::string reply = board::write_san(after, tried.refutations.front());
        items.push_back(fmt::format("{}{}? {}{}!", number(m_position),
                                    board::write_san(m_position, tried.move), next_number(m_position),
                                    reply));
    }
    if (items.empty() && m_problem.tries_complete) {
        items.emplace_back("none");
    }
    Items weak;
    if (!m_problem.weak_tries.empty()) {
        weak.push_back(fmt::format("{}{}, each refuted by two replies",
                                   m_problem.tries_complete ? "" : "at least ", m_problem.weak_tries.size()));
    }
    return row("tries", items) + row("weak tries", weak);
}

std::string Writer::duals() const {
    if (!m_problem.variations) {
        return {};
    }
    Lines duals(m_after);
    Lines promotions(m_after);
    Lines unparried(m_after);
    for (const solve::Variation& variation : *m_problem.variations) {
        Lines* const lines = variation.ways == Ways::dual               ? &duals
                             : variation.ways == Ways::promotion_dual   ? &promotions
                             : variation.ways == Ways::threat_and_other ? &unparried
                                                                        : nullptr;
        if (lines != nullptr) {
            lines->add(variation.reply, answer(m_after.after(variation.reply), variation.answer));
        }
    }
    const std::string text = row("duals", duals.items()) + row("promotion duals", promotions.items());
    return (text.empty() ? row("duals", {"none"}) : text) + row("", by_custom(unparried));
}

std::string Writer::open() const {
    Items items;
    if (!m_problem.variations) {
        items.emplace_back(m_problem.threats ? "duals" : "threats and duals");
    }
    if (!m_problem.set_play && !m_position.in_check()) {
        items.emplace_back("set play");
    }
    if (!m_problem.tries_complete) {
        items.emplace_back(m_problem.tries.empty() ? "tries" : "further tries");
    }
    return items.empty() ? "" : row("open", {fmt::format("{} (the budget ended)", fmt::join(items, ", "))});
}

} // namespace

std::string problem_text(const Position& position, const Problem& problem) {
    return problem.key_solves == solve::Answer::yes ? Writer(position, problem).write() : "";
}

} // namespace app
