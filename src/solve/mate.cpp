#include "solve/mate.hpp"

#include <algorithm>
#include <bit>

namespace solve {
namespace {

using board::Move;
using board::MoveList;
using board::Position;

using Scope = MateProver::Scope;

/// Proofs about one position differ by who attacks and with what: the key tells them apart.
board::Hash key_of(const Position& position, board::Color attacker, Scope scope) {
    constexpr board::Hash black_attacks = 0x9d1f3ac5e27b8406;
    constexpr board::Hash checks_only = 0x4e6b02d78f915ac3;
    return position.hash() ^ (attacker == board::Color::black ? black_attacks : 0) ^
           (scope == Scope::checks ? checks_only : 0);
}

struct Ranked {
    Move move;
    int rank; ///< lower is looked at first
};

struct RankedList {
    std::array<Ranked, MoveList::capacity> moves;
    std::size_t size = 0;
    [[nodiscard]] std::span<const Ranked> sorted() {
        std::stable_sort(moves.begin(), moves.begin() + static_cast<std::ptrdiff_t>(size),
                         [](const Ranked& a, const Ranked& b) { return a.rank < b.rank; });
        return {moves.data(), size};
    }
};

constexpr int leads = -1; // what worked before
constexpr int after_checks = 1000;

/// Checks first, those that leave the fewest replies before the others; then captures, then the rest.
void rank_attack(Position& position, Scope scope, Move first, RankedList& list) {
    for (const Move move : position.legal_moves()) {
        const bool takes = position.is_capture(move);
        const auto undo = position.make(move);
        const bool check = position.in_check();
        int rank = takes ? after_checks : after_checks + 1;
        if (move == first) {
            rank = leads;
        } else if (check) {
            rank = static_cast<int>(position.count_legal_moves());
        }
        position.unmake(move, undo);
        if (check || scope == Scope::all) {
            list.moves[list.size++] = {move, rank};
        }
    }
}

/// What refuted before, then captures of the dearest, then king's moves, then the rest.
void rank_defence(const Position& position, const MoveList& replies, Move first, Move second,
                  RankedList& list) {
    const board::Square king = position.king(position.turn());
    for (const Move move : replies) {
        int rank = move.from() == king ? 20 : 30;
        if (move == first) {
            rank = leads;
        } else if (move == second) {
            rank = 0;
        } else if (const auto taken = position.captured(move)) {
            rank = 10 - board::value_of(*taken);
        }
        list.moves[list.size++] = {move, rank};
    }
}

} // namespace

MateProver::MateProver(std::uint64_t entries, Account& account, const Endgames& endgames)
    : m_account(account), m_endgames(endgames),
      m_entries(std::bit_ceil(std::clamp<std::uint64_t>(entries, 1U << 10U, 1U << 20U))) {}

MateProver::Proof MateProver::look_up(board::Hash key) const {
    if (!m_proofs.empty()) {
        const std::size_t first = key & (m_entries - 1) & ~std::size_t{1};
        for (const std::size_t i : {first, first + 1}) {
            if (m_proofs[i].known && m_proofs[i].hash == key) {
                return m_proofs[i];
            }
        }
    }
    Proof proof;
    proof.hash = key;
    return proof;
}

void MateProver::store(const Proof& proof) {
    if (m_proofs.empty()) {
        m_proofs.resize(m_entries);
    }
    const std::size_t first = proof.hash & (m_entries - 1) & ~std::size_t{1};
    const auto weight = [](const Proof& p) {
        return !p.known ? -1 : p.proved != none ? 1000 : int{p.denied};
    };
    // The first place keeps what took the most work, the second what is newest.
    Proof& deep = m_proofs[first];
    Proof& fresh = m_proofs[first + 1];
    if (deep.hash == proof.hash || weight(deep) <= weight(proof)) {
        if (deep.known && deep.hash != proof.hash) {
            fresh = deep;
        }
        deep = proof;
        deep.known = true;
    } else {
        fresh = proof;
        fresh.known = true;
    }
}

bool MateProver::mate_in_one(Position& position, Move& found) {
    for (const Move move : position.legal_moves()) {
        if (!position.gives_check(move)) {
            continue;
        }
        if (!m_account.spend()) {
            m_stopped = true;
            return false;
        }
        const auto undo = position.make(move);
        const bool mated = !position.has_legal_move();
        position.unmake(move, undo);
        if (mated) {
            found = move;
            return true;
        }
    }
    return false;
}

bool MateProver::attack_exactly(Position& position, int moves, Scope scope, Move first, Move& found) {
    if (moves == 1) {
        return mate_in_one(position, found);
    }
    RankedList list;
    rank_attack(position, scope, first, list);
    for (const auto& [move, rank] : list.sorted()) {
        const auto undo = position.make(move);
        const bool works = defend(position, moves - 1, scope);
        position.unmake(move, undo);
        if (works) {
            found = move;
            return true;
        }
        if (m_stopped) {
            return false;
        }
    }
    return false;
}

/// Shorter lengths are settled first, so a proof is always of the shortest length.
bool MateProver::attack(Position& position, int moves, Scope scope) {
    if (const auto exact = m_endgames.value(position)) {
        return exact->outcome == EndgameValue::Outcome::win && exact->plies_to_mate < 2 * moves;
    }
    Proof proof = look_up(key_of(position, position.turn(), scope));
    if (proof.proved <= moves) {
        return true;
    }
    for (int length = proof.denied + 1; length <= moves; ++length) {
        Move found;
        const bool works = attack_exactly(position, length, scope, proof.move, found);
        if (m_stopped) {
            return false;
        }
        if (works) {
            proof.proved = static_cast<std::uint8_t>(length);
            proof.move = found;
            store(proof);
            return true;
        }
        proof.denied = static_cast<std::uint8_t>(length);
        if (length > 1) {
            store(proof);
        }
    }
    if (moves == 1) {
        store(proof);
    }
    return false;
}

bool MateProver::defend(Position& position, int moves, Scope scope) {
    if (!m_account.spend()) {
        m_stopped = true;
        return false;
    }
    const bool in_check = position.in_check();
    if (moves == 0) {
        return in_check && !position.has_legal_move();
    }
    if (const auto exact = m_endgames.value(position)) {
        return exact->outcome == EndgameValue::Outcome::loss && exact->plies_to_mate <= 2 * moves;
    }
    Proof proof = look_up(key_of(position, !position.turn(), scope));
    if (proof.proved <= moves) {
        return true;
    }
    if (proof.known && proof.denied >= moves) {
        return false;
    }
    const MoveList replies = position.legal_moves();
    if (replies.empty()) {
        return in_check;
    }
    Move& refuter = m_refuters[static_cast<std::size_t>(moves)];
    RankedList list;
    rank_defence(position, replies, proof.move, refuter, list);
    for (const auto& [reply, rank] : list.sorted()) {
        const auto undo = position.make(reply);
        const bool mated = attack(position, moves, scope);
        position.unmake(reply, undo);
        if (m_stopped) {
            return false;
        }
        if (!mated) {
            refuter = reply;
            proof.denied = static_cast<std::uint8_t>(moves);
            proof.move = reply;
            store(proof);
            return false;
        }
    }
    proof.proved = static_cast<std::uint8_t>(moves);
    store(proof);
    return true;
}

std::optional<int> MateProver::shortest(Position& position, int limit, Scope scope) {
    m_stopped = false;
    for (int length = 1; length <= std::min(limit, most_moves); ++length) {
        if (attack(position, length, scope)) {
            return length;
        }
        if (m_stopped) {
            break;
        }
    }
    return std::nullopt;
}

bool MateProver::survives_not(Position& position, int moves, Scope scope) {
    m_stopped = false;
    return defend(position, std::min(moves, most_moves), scope);
}

std::optional<int> MateProver::shortest_after(Position& position, int limit, Scope scope) {
    for (int moves = 0; moves <= limit; ++moves) {
        if (survives_not(position, moves, scope)) {
            return moves;
        }
        if (m_stopped) {
            break;
        }
    }
    return std::nullopt;
}

Move MateProver::refutation(const Position& position, Scope scope) const {
    const Proof proof = look_up(key_of(position, !position.turn(), scope));
    return proof.known ? proof.move : Move();
}

/// The reply after which the mate, `left` moves at most, takes longest; the first of equals.
Move MateProver::hardest_reply(Position& position, int left, Scope scope) {
    Move hardest;
    int longest = 0;
    for (const Move reply : position.legal_moves()) {
        const auto undo = position.make(reply);
        const auto length = shortest(position, left, scope);
        position.unmake(reply, undo);
        if (m_stopped) {
            break;
        }
        if (length.value_or(0) > longest) {
            longest = *length;
            hardest = reply;
        }
    }
    return hardest;
}

Line MateProver::longest_defence(Position& position, int length, Scope scope) {
    m_stopped = false;
    Line line;
    Position at = position;
    int left = length;
    while (const auto least = shortest(at, left, scope)) {
        Move found;
        const Proof proof = look_up(key_of(at, at.turn(), scope));
        if (!attack_exactly(at, *least, scope, proof.move, found)) {
            break;
        }
        line.push_back(found);
        at.make(found);
        left = *least - 1;
        const Move reply = hardest_reply(at, left, scope);
        if (!reply) {
            break;
        }
        line.push_back(reply);
        at.make(reply);
    }
    return line;
}

Line MateProver::longest_defence_after(Position& position, int moves, Scope scope) {
    m_stopped = false;
    const Move reply = hardest_reply(position, moves, scope);
    if (!reply) {
        return {};
    }
    const auto undo = position.make(reply);
    Line line = longest_defence(position, moves, scope);
    position.unmake(reply, undo);
    line.insert(line.begin(), reply);
    return line;
}

} // namespace solve
