// Walks a mate that is proved: the attacker's moves, and the line that holds out longest.

#include "solve/long_mate.hpp"

#include <algorithm>

namespace solve {

using board::Move;
using board::Position;

/// All moves, and how soon after each the mate is known to come.
std::vector<LongMateProver::Step> LongMateProver::steps(Position& position, bool attacks) {
    m_bounded = false;
    std::vector<Step> all;
    for (const Move move : position.legal_moves()) {
        const auto undo = position.make(move);
        const auto stored = m_table.find(key(position));
        const Numbers numbers = stored && stored->is_mate(!attacks)
                                    ? *stored
                                    : first_look(position, {0, most_plies, !attacks, 0});
        position.unmake(move, undo);
        if (m_stopped) {
            break;
        }
        const bool mate = numbers.is_mate(!attacks);
        all.push_back({move, mate ? std::optional<int>(numbers.plies) : std::nullopt});
    }
    return all;
}

Line LongMateProver::line_after(Position& position, const Step& step, bool attacks) {
    const auto undo = position.make(step.move);
    Line line = longest_line(position, !attacks, step.plies.value_or(0));
    position.unmake(step.move, undo);
    line.insert(line.begin(), step.move);
    return line;
}

/// The attacker's move with the quickest proof, mate in less than `plies` behind it; without one stopped().
std::optional<LongMateProver::Step> LongMateProver::mating_step(Position& position, int plies) {
    for (const bool again : {false, true}) {
        if (again) { // the proof was lost from the table
            static_cast<void>(prove(position, true, plies));
        }
        const std::vector<Step> all = steps(position, true);
        const auto quickest = std::min_element(all.begin(), all.end(), [](const Step& a, const Step& b) {
            return a.plies.value_or(most_plies * most_plies) < b.plies.value_or(most_plies * most_plies);
        });
        if (m_stopped) {
            break;
        }
        if (quickest != all.end() && quickest->plies && *quickest->plies < plies) {
            return *quickest;
        }
    }
    m_stopped = true; // not even proved again: the table is too small to hold it
    return std::nullopt;
}

Line LongMateProver::attacking_line(Position& position, int plies) {
    const auto step = mating_step(position, plies);
    return step ? line_after(position, *step, true) : Line();
}

/// The reply that holds out longest. Where its line turns out shorter than its proof, another may be longer.
Line LongMateProver::defending_line(Position& position, int plies) {
    std::vector<Step> all = steps(position, false);
    for (Step& step : all) {
        if (!step.plies || *step.plies >= plies) { // lost from the table, or there a longer one is stored
            const auto undo = position.make(step.move);
            const Numbers numbers = prove(position, true, plies - 1);
            position.unmake(step.move, undo);
            step.plies = numbers.plies;
        }
    }
    while (!m_stopped && !all.empty()) {
        const auto longest = std::max_element(all.begin(), all.end(),
                                              [](const Step& a, const Step& b) { return a.plies < b.plies; });
        Line line = line_after(position, *longest, false);
        if (m_stopped || static_cast<int>(line.size()) > longest->plies) {
            return line;
        }
        longest->plies = static_cast<int>(line.size()) - 1;
    }
    return {};
}

/// Its length bounds the mate as well as `plies` does, unless the account ran dry.
Line LongMateProver::longest_line(Position& position, bool attacks, int plies) {
    if (plies <= 0) {
        return {};
    }
    return attacks ? attacking_line(position, plies) : defending_line(position, plies);
}

/// With a line as long as `moves` says, unless stopped().
LongMate LongMateProver::write(Position& position, bool attacks, int plies) {
    LongMate mate;
    mate.line = longest_line(position, attacks, plies);
    mate.moves = ((m_stopped ? plies : static_cast<int>(mate.line.size())) + 1) / 2;
    return mate;
}

std::optional<MatingMove> LongMateProver::mating_move(Position& position, int moves) {
    m_stopped = false;
    m_attacker = position.turn();
    const auto step = mating_step(position, 2 * moves - 1);
    return step ? std::optional(MatingMove{step->move, step->plies.value_or(0) / 2}) : std::nullopt;
}

} // namespace solve
