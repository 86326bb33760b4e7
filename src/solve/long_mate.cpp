#include "solve/long_mate.hpp"

#include <algorithm>
#include <limits>

namespace solve {
namespace {

using board::Move;
using board::Position;

constexpr Nodes least_for_shortening = 20'000;

} // namespace

/// Lists the children with their numbers; no more are needed after one that settles everything.
void LongMateProver::expand(Position& position, const Spot& spot) {
    for (const Move move : position.legal_moves()) {
        const auto undo = position.make(move);
        const Spot next = spot.after(position);
        const Numbers numbers = number(position, next);
        position.unmake(move, undo);
        if (m_stopped) {
            return;
        }
        m_children.push_back({move, numbers});
        if (numbers.fail == 0 && numbers.plies == 0 && numbers.rests_on == Numbers::nothing) {
            return;
        }
    }
}

/// The numbers of a position by those of its children, and how far to go with the most promising of them.
LongMateProver::Choice LongMateProver::choose(std::size_t first, bool attacks, Limits limits) const {
    Choice choice;
    std::uint32_t best = Numbers::infinite + 1;
    std::uint32_t second = Numbers::infinite;
    std::uint32_t most = 0;
    std::uint32_t open = 0;
    std::uint64_t sum = 0;
    for (std::size_t i = first; i < m_children.size(); ++i) {
        const Numbers& numbers = m_children[i].numbers;
        if (numbers.fail < best) {
            second = std::min(best, Numbers::infinite);
            best = numbers.fail;
            choice.best = i;
        } else {
            second = std::min(second, numbers.fail);
        }
        most = std::max(most, numbers.gain);
        open += numbers.gain > 0 ? 1 : 0;
        sum += numbers.gain;
    }
    if (best == 0 || open == 0) {
        choice.numbers = best == 0 ? Numbers::reached() : Numbers::thwarted();
        return choice;
    }
    // To deny a mate all moves must fail, but they often fail to one and the same reply: the hardest counts
    // in full, the others little. To prove it all replies must be answered, each for itself.
    const std::uint64_t all = attacks ? most + (open - 1) / attacks_an_end : sum;
    const std::uint32_t gain = m_children[choice.best].numbers.gain;
    const std::uint32_t others = static_cast<std::uint32_t>(
        std::min<std::uint64_t>(attacks ? all - most : all - gain, Numbers::infinite - 1));
    choice.numbers.gain = best;
    choice.numbers.fail = static_cast<std::uint32_t>(std::min<std::uint64_t>(all, Numbers::infinite - 1));
    choice.limits.gain = std::max(limits.fail - std::min(others, limits.fail), gain + 1);
    choice.limits.fail = std::min(limits.gain, second + second / 4 + 1); // some grace saves coming back soon
    return choice;
}

/// The length of a mate, or what its denial rests on.
void LongMateProver::settle(Numbers& numbers, std::size_t first, const Spot& spot) const {
    const bool one_suffices = numbers.gain == 0;
    int plies = one_suffices ? std::numeric_limits<std::uint16_t>::max() - 1 : 0;
    int rests_on = one_suffices ? Numbers::beyond : Numbers::nothing;
    for (std::size_t i = first; i < m_children.size(); ++i) {
        const Numbers& child = m_children[i].numbers;
        if (!one_suffices) {
            plies = std::max<int>(plies, child.plies);
            rests_on = std::min<int>(rests_on, child.rests_on);
        } else if (child.fail == 0) {
            plies = std::min<int>(plies, child.plies);
            rests_on = std::max<int>(rests_on, child.rests_on);
        }
    }
    if (numbers.is_mate(spot.attacks)) {
        numbers.plies = static_cast<std::uint16_t>(plies + 1);
    } else if (rests_on < spot.ply) { // lines that come back to this position or later ones fail anywhere
        numbers.rests_on = static_cast<std::int16_t>(rests_on);
    }
}

ProofNumbers LongMateProver::work(Position& position, const Spot& spot, Limits limits) {
    const auto enough = [&](const Numbers& n) { return n.gain >= limits.gain || n.fail >= limits.fail; };
    const Nodes before = m_account.used();
    if (!pay()) {
        return {};
    }
    if (const auto numbers = known(position, spot); numbers && enough(*numbers)) {
        return *numbers;
    }
    const std::size_t first = m_children.size();
    m_path[static_cast<std::size_t>(spot.ply)] = position.hash();
    expand(position, spot);
    Numbers numbers;
    while (!m_stopped) {
        const Choice choice = choose(first, spot.attacks, limits);
        numbers = choice.numbers;
        if (enough(numbers)) {
            break;
        }
        const Move move = m_children[choice.best].move;
        const auto undo = position.make(move);
        const Spot next = spot.after(position);
        const Numbers found = work(position, next, choice.limits);
        position.unmake(move, undo);
        m_children[choice.best].numbers = found;
    }
    if (!m_stopped) {
        if (numbers.solved()) {
            settle(numbers, first, spot);
        }
        store(position, spot, numbers, m_account.used() - before);
    }
    m_children.resize(first);
    return numbers;
}

/// With `plies` a mate within so many, else any.
ProofNumbers LongMateProver::prove(Position& position, bool attacks, std::optional<int> plies) {
    m_bounded = plies.has_value();
    m_children.clear();
    const Spot spot = Spot::first(position, plies.value_or(most_plies), attacks);
    m_path.assign(static_cast<std::size_t>(spot.left) + 1, 0);
    const Numbers numbers = number(position, spot);
    return m_stopped || numbers.solved() ? numbers
                                         : work(position, spot, {Numbers::infinite, Numbers::infinite});
}

/// Asks for a shorter mate until there is none: true; or until the account says stop: false.
bool LongMateProver::shorten(Position& position, bool attacks, int& plies) {
    while (plies >= 2) {
        const int shorter = std::min(plies - 2, most_plies);
        const Numbers numbers = prove(position, attacks, shorter);
        if (m_stopped) {
            return false;
        }
        if (!numbers.is_mate(attacks)) {
            return shorter == plies - 2;
        }
        plies = numbers.plies;
    }
    return true;
}

std::optional<LongMate> LongMateProver::find(Position position, bool attacks) {
    m_stopped = false;
    m_denied = false;
    m_attacker = attacks ? position.turn() : !position.turn();
    const Nodes before = m_account.used();
    const Numbers numbers = prove(position, attacks, std::nullopt);
    if (m_stopped) {
        return std::nullopt;
    }
    if (!numbers.is_mate(attacks)) {
        m_denied = numbers.rests_on == Numbers::nothing;
        return std::nullopt;
    }
    LongMate mate = write(position, attacks, numbers.plies);
    if (!m_stopped) {
        // The line is written twice: nodes may run out while it is written again.
        const Nodes cost = m_account.used() - before;
        int plies = static_cast<int>(mate.line.size());
        {
            const Account::Share share(m_account, cost + least_for_shortening);
            mate.shortest = shorten(position, attacks, plies);
        }
        m_stopped = false;
        const LongMate shorter = write(position, attacks, plies);
        if (!m_stopped) {
            mate = {shorter.moves, mate.shortest, shorter.line};
        } else {
            mate.shortest = mate.shortest && plies == static_cast<int>(mate.line.size());
        }
    }
    m_stopped = false; // the question is answered
    return mate;
}

std::optional<LongMate> LongMateProver::find(const Position& position) {
    return find(position, true);
}

std::optional<LongMate> LongMateProver::find_after(const Position& position) {
    return find(position, false);
}

std::optional<bool> LongMateProver::mated_within(Position& position, int moves) {
    m_stopped = false;
    m_denied = false;
    m_attacker = !position.turn();
    const int plies = std::min(2 * moves, most_plies);
    Numbers numbers = prove(position, false, std::nullopt);
    if (!m_stopped && numbers.is_mate(false) && numbers.plies > plies) {
        numbers = prove(position, false, plies);
    }
    if (m_stopped || (!numbers.is_mate(false) && numbers.rests_on != Numbers::nothing)) {
        return std::nullopt;
    }
    return numbers.is_mate(false);
}

} // namespace solve
