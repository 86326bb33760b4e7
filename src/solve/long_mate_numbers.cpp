// What proof-number search makes of a single position: what is known of it, else what a first look shows.

#include "solve/long_mate.hpp"

#include <algorithm>

namespace solve {
namespace {

using board::Hash;
using board::Move;
using board::Position;

// Tuned on mates from games: what a fresh position seems to need.
constexpr std::uint32_t quiet_ends = 2;    // a quiet move: these,
constexpr std::uint32_t quiet_replies = 3; // and one for so many replies
constexpr std::uint32_t no_check_ends = 6; // the attacker has no check that leaves fewer replies

constexpr Hash mix(Hash word) {
    word += 0x9e3779b97f4a7c15;
    word = (word ^ (word >> 30U)) * 0xbf58476d1ce4e5b9;
    word = (word ^ (word >> 27U)) * 0x94d049bb133111eb;
    return word ^ (word >> 31U);
}

} // namespace

LongMateProver::Spot LongMateProver::Spot::first(const Position& position, int left, bool attacks) {
    return {0, left, attacks, mix(position.hash())};
}

LongMateProver::Spot LongMateProver::Spot::after(const Position& position) const {
    return {ply + 1, left - 1, !attacks, mix(path ^ position.hash())};
}

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
        if (!m_bounded || !general->is_mate(spot.attacks) || general->plies <= spot.left) {
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
    if (numbers.is_mate(spot.attacks)) {
        const auto before = m_table.find(key(position));
        if (!before || !before->is_mate(spot.attacks) || before->plies > numbers.plies) {
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
            return Numbers::no_mate(spot.attacks, static_cast<std::int16_t>(ply));
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
        return Numbers::no_mate(spot.attacks);
    }
    return Numbers::mate_in(value->plies_to_mate, spot.attacks);
}

ProofNumbers LongMateProver::cut_off(bool attacks) const {
    return Numbers::no_mate(attacks, m_bounded ? Numbers::nothing : Numbers::beyond);
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
            return Numbers::mate_in(1, true);
        }
        numbers.gain = std::min(numbers.gain, replies);
        ++checks;
    }
    if (moves.empty()) {
        return Numbers::no_mate(true);
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
        return Numbers::no_mate(spot.attacks);
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
        return check ? Numbers::mate_in(0, false) : Numbers::no_mate(false);
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

} // namespace solve
