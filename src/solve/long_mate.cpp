#include "solve/long_mate.hpp"

#include <algorithm>
#include <limits>

namespace solve {
namespace {

using board::Hash;
using board::Move;
using board::Position;

// Tuned on mates from games: what a fresh position seems to need.
constexpr std::uint32_t quiet_ends = 2;    // a quiet move: these,
constexpr std::uint32_t quiet_replies = 3; // and one for so many replies
constexpr std::uint32_t no_check_ends = 6; // the attacker has no check that leaves fewer replies
constexpr std::uint32_t attacks_an_end =
    8; // so many further moves of the attacker are as much as one to deny
constexpr Nodes least_for_shortening = 20'000;
constexpr std::int16_t beyond = -1; // a denial that rests on the end of the path allowed

constexpr Hash mix(Hash word) {
    word += 0x9e3779b97f4a7c15;
    word = (word ^ (word >> 30U)) * 0xbf58476d1ce4e5b9;
    word = (word ^ (word >> 27U)) * 0x94d049bb133111eb;
    return word ^ (word >> 31U);
}

bool is_mate(const ProofNumbers& numbers, bool attacks) {
    return (attacks ? numbers.gain : numbers.fail) == 0;
}

ProofNumbers mate_in(int plies, bool attacks) {
    ProofNumbers numbers = attacks ? ProofNumbers::reached() : ProofNumbers::thwarted();
    numbers.plies = static_cast<std::uint16_t>(plies);
    return numbers;
}

ProofNumbers no_mate(bool attacks, std::int16_t rests_on = ProofNumbers::nothing) {
    ProofNumbers numbers = attacks ? ProofNumbers::thwarted() : ProofNumbers::reached();
    numbers.rests_on = rests_on;
    return numbers;
}

} // namespace

LongMateProver::LongMateProver(std::uint64_t entries, Account& account, const Endgames& endgames)
    : m_account(account), m_table(entries), m_endgames(endgames) {}

bool LongMateProver::pay() {
    m_stopped = m_stopped || m_account.exhausted() || !m_account.spend();
    return !m_stopped;
}

/// Proofs about one position differ by who attacks.
Hash LongMateProver::key(const Position& position) const {
    constexpr Hash black_attacks = 0x5be0cd19137e2179;
    return position.hash() ^ (m_attacker == board::Color::black ? black_attacks : 0);
}

/// For what holds only within so many plies, or only after this path.
Hash LongMateProver::key(const Position& position, const Spot& spot) const {
    return key(position) ^ (m_bounded ? mix(static_cast<Hash>(spot.left)) : spot.path);
}

std::optional<ProofNumbers> LongMateProver::known(const Position& position, const Spot& spot) const {
    const auto general = m_table.find(key(position));
    if (general && general->solved()) {
        if (!m_bounded || !is_mate(*general, spot.attacks) || general->plies <= spot.left) {
            return general;
        }
    }
    if (m_bounded || m_path_bound) {
        if (const auto special = m_table.find(key(position, spot))) {
            return special;
        }
    }
    // Near the end of what is looked at a first look says more than what was thought without that end.
    return general && !general->solved() && spot.left > 1 ? general : std::nullopt;
}

void LongMateProver::store(const Position& position, const Spot& spot, const Numbers& numbers, Nodes cost) {
    if (is_mate(numbers, spot.attacks)) {
        const auto before = m_table.find(key(position));
        if (!before || !is_mate(*before, spot.attacks) || before->plies > numbers.plies) {
            m_table.store(key(position), numbers, cost);
        }
    } else if (m_bounded) {
        m_table.store(key(position, spot), numbers, cost);
    } else if (numbers.solved() && numbers.rests_on != Numbers::nothing) {
        m_path_bound = true;
        m_table.store(key(position, spot), numbers, cost);
    } else {
        m_table.store(key(position), numbers, cost);
    }
}

/// Back at a position of the path: no way to mate, as long as one comes from there.
std::optional<ProofNumbers> LongMateProver::repeated(const Position& position, const Spot& spot) const {
    if (m_bounded) {
        return std::nullopt;
    }
    const int furthest = std::max(0, spot.ply - position.halfmoves());
    for (int ply = spot.ply - 4; ply >= furthest; ply -= 2) {
        if (m_path[static_cast<std::size_t>(ply)] == position.hash()) {
            return no_mate(spot.attacks, static_cast<std::int16_t>(ply));
        }
    }
    return std::nullopt;
}

std::optional<ProofNumbers> LongMateProver::ending(const Position& position, const Spot& spot) const {
    const auto value = m_endgames.value(position);
    if (!value) {
        return std::nullopt;
    }
    const bool mate =
        value->outcome == (spot.attacks ? EndgameValue::Outcome::win : EndgameValue::Outcome::loss);
    if (!mate || (m_bounded && value->plies_to_mate > spot.left)) {
        return no_mate(spot.attacks);
    }
    return mate_in(value->plies_to_mate, spot.attacks);
}

ProofNumbers LongMateProver::cut_off(bool attacks) const {
    return no_mate(attacks, m_bounded ? Numbers::nothing : beyond);
}

/// Mate in one; else as many open ends as the check with the fewest replies leaves.
ProofNumbers LongMateProver::look_at_checks(Position& position, const Spot& spot) {
    Numbers numbers{no_check_ends, 1, 0, Numbers::nothing};
    std::uint32_t checks = 0;
    const board::MoveList moves = position.legal_moves();
    for (const Move move : moves) {
        if (!position.gives_check(move)) {
            continue;
        }
        if (!pay()) {
            return numbers;
        }
        const auto undo = position.make(move);
        const auto replies = static_cast<std::uint32_t>(position.count_legal_moves());
        position.unmake(move, undo);
        if (replies == 0) {
            return mate_in(1, true);
        }
        numbers.gain = std::min(numbers.gain, replies);
        ++checks;
    }
    if (moves.empty()) {
        return no_mate(true);
    }
    if (spot.left <= 1) {
        return cut_off(true);
    }
    numbers.fail += checks / attacks_an_end;
    return numbers;
}

ProofNumbers LongMateProver::first_look(Position& position, const Spot& spot) {
    if (!pay()) {
        return {};
    }
    const bool bare = position.pieces(m_attacker) == position.pieces(m_attacker, board::Role::king);
    if (bare || position.is_dead()) {
        return no_mate(spot.attacks);
    }
    if (const auto exact = ending(position, spot)) {
        return *exact;
    }
    if (spot.attacks) {
        return look_at_checks(position, spot);
    }
    const auto replies = static_cast<std::uint32_t>(position.count_legal_moves());
    const bool check = position.in_check();
    if (replies == 0) {
        return check ? mate_in(0, false) : no_mate(false);
    }
    if (spot.left <= 0) {
        return cut_off(false);
    }
    return {1, check ? replies : quiet_ends + replies / quiet_replies, 0, Numbers::nothing};
}

ProofNumbers LongMateProver::number(Position& position, const Spot& spot) {
    if (const auto again = repeated(position, spot)) {
        return *again;
    }
    if (const auto before = known(position, spot)) {
        return *before;
    }
    return first_look(position, spot);
}

/// Lists the children with their numbers; no more are needed after one that settles everything.
void LongMateProver::expand(Position& position, const Spot& spot) {
    for (const Move move : position.legal_moves()) {
        const auto undo = position.make(move);
        const Spot next{spot.ply + 1, spot.left - 1, !spot.attacks, mix(spot.path ^ position.hash())};
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
    int rests_on = one_suffices ? beyond : Numbers::nothing;
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
    if (is_mate(numbers, spot.attacks)) {
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
        const Spot next{spot.ply + 1, spot.left - 1, !spot.attacks, mix(spot.path ^ position.hash())};
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
    const Spot spot{0, plies.value_or(most_plies), attacks, mix(position.hash())};
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
        if (!is_mate(numbers, attacks)) {
            return shorter == plies - 2;
        }
        plies = numbers.plies;
    }
    return true;
}

/// All moves, and how soon after each the mate is known to come.
std::vector<LongMateProver::Step> LongMateProver::steps(Position& position, bool attacks) {
    m_bounded = false;
    std::vector<Step> all;
    for (const Move move : position.legal_moves()) {
        const auto undo = position.make(move);
        const auto stored = m_table.find(key(position));
        const Numbers numbers = stored && is_mate(*stored, !attacks)
                                    ? *stored
                                    : first_look(position, {0, most_plies, !attacks, 0});
        position.unmake(move, undo);
        if (m_stopped) {
            break;
        }
        const bool mate = is_mate(numbers, !attacks);
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

/// The move with the quickest proof.
Line LongMateProver::attacking_line(Position& position, int plies) {
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
            return line_after(position, *quickest, true);
        }
    }
    m_stopped = true; // not even proved again: the table is too small to hold it
    return {};
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

std::optional<LongMate> LongMateProver::find(Position position, bool attacks) {
    m_stopped = false;
    m_denied = false;
    m_attacker = attacks ? position.turn() : !position.turn();
    const Nodes before = m_account.used();
    const Numbers numbers = prove(position, attacks, std::nullopt);
    if (m_stopped) {
        return std::nullopt;
    }
    if (!is_mate(numbers, attacks)) {
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

/// With a line as long as `moves` says, unless stopped().
LongMate LongMateProver::write(Position& position, bool attacks, int plies) {
    LongMate mate;
    mate.line = longest_line(position, attacks, plies);
    mate.moves = ((m_stopped ? plies : static_cast<int>(mate.line.size())) + 1) / 2;
    return mate;
}

std::optional<LongMate> LongMateProver::find(const Position& position) {
    return find(position, true);
}

std::optional<LongMate> LongMateProver::find_after(const Position& position) {
    return find(position, false);
}

} // namespace solve
