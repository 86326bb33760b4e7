#include "motif/study.hpp"

#include "motif/geometry.hpp"
#include "solve/endgame_tables.hpp"

#include <algorithm>

namespace motif {

using board::Move;
using board::Position;
using board::Square;

namespace {

/// Hundredths with some slack for the small terms of the score.
solve::Aim a_pawn_above(int base) {
    return solve::Aim::value(100 * (base + 1) - 40);
}

/// The same move, whatever a pawn becomes.
bool same_way(Move a, Move b) {
    return a.from() == b.from() && a.to() == b.to();
}

} // namespace

Study::Study(const SolutionLine& line, solve::Solver& solver)
    : m_solver(&solver), m_us(line.start.turn()), m_lead_in_capture(line.lead_in_capture),
      m_key_alone(line.key_alone), m_positions{line.start} {
    if (const auto passed = line.set_play ? line.start.passed() : std::nullopt) {
        m_first = 2;
        m_moves.emplace_back();
        m_positions.push_back(*passed);
    }
    for (const Move move : line.moves) {
        if (!last().is_legal(move)) {
            break;
        }
        m_moves.push_back(move);
        m_positions.push_back(last().after(move));
    }
    for (const Position& position : m_positions) {
        m_balance.push_back(solve::balance(position, m_us));
    }
    m_mates = last().turn() != m_us && last().is_checkmate();
    m_settled.resize(m_positions.size());
    m_forced.resize(m_positions.size());
    m_mate_forced.resize(m_positions.size());
    m_only_move.resize(m_positions.size());
    m_only_winner.resize(m_positions.size());
}

board::Role Study::mover(std::size_t ply) const {
    return at(ply).at(move(ply).from())->role;
}

std::optional<board::Role> Study::captured(std::size_t ply) const {
    return at(ply).captured(move(ply));
}

int Study::captured_worth(std::size_t ply) const {
    const auto role = captured(ply);
    return role ? board::value_of(*role) : 0;
}

int Study::settled(std::size_t n) const {
    if (!m_settled[n]) {
        m_settled[n] = m_settler.settle(at(n), m_us);
    }
    return *m_settled[n];
}

int Study::base_of(std::size_t ply) const {
    const bool retaken =
        captured(ply) && has(ply + 1) && captured(ply + 1) && move(ply + 1).to() == move(ply).to();
    return balance(retaken ? ply : ply + 1);
}

std::optional<Square> Study::captured_before(std::size_t ply) const {
    if (ply == 0) {
        return m_lead_in_capture;
    }
    return captured(ply - 1) ? std::optional(move(ply - 1).to()) : std::nullopt;
}

int Study::forced(std::size_t n) const {
    if (!m_forced[n]) {
        m_forced[n] = m_settler.worst_reply(at(n), m_us);
    }
    return *m_forced[n];
}

std::optional<Square> Study::follow(Square square, std::size_t from, std::size_t to) const {
    for (std::size_t ply = from; ply < to; ++ply) {
        if (move(ply).from() == square) {
            square = move(ply).to();
        } else if (captured(ply) && square_taken(move(ply)) == square) {
            return std::nullopt;
        }
    }
    return square;
}

std::optional<std::size_t> Study::taken(Square square, std::size_t n, std::size_t last) const {
    for (std::size_t ply = n; ply <= last && has(ply); ++ply) {
        if (move(ply).from() == square) {
            square = move(ply).to();
        } else if (captured(ply) && square_taken(move(ply)) == square) {
            return ply % 2 == 0 ? std::optional(ply) : std::nullopt;
        }
    }
    return std::nullopt;
}

int Study::moves_after(std::size_t ply) const {
    return static_cast<int>((plies() - ply) / 2); // the solver's, ply being one of his
}

bool Study::gains_later() const {
    if (balance(0) > 1) {
        return false; // who is ahead gains sooner or later: that proves nothing of the line
    }
    if (!m_gains_later) {
        m_gains_later =
            m_solver->reaches(last(), m_us, a_pawn_above(balance(0))).answer == solve::Answer::yes;
    }
    return *m_gains_later;
}

bool Study::sound(std::size_t ply, int base) const {
    if (forced(ply + 1) - base >= 1 || mate_forced(ply)) {
        return true;
    }
    if (settled(plies()) - base < 1 && !wins()) {
        return false;
    }
    const auto asked = std::pair(ply, base);
    for (const auto& [question, answer] : m_sound) {
        if (question == asked) {
            return answer;
        }
    }
    const solve::Aim aim = a_pawn_above(base);
    const bool answer = m_settler.keeps(at(ply + 1), m_us, base + 1, 1) ||
                        m_solver->reaches(at(ply + 1), m_us, aim).answer == solve::Answer::yes;
    m_sound.emplace_back(asked, answer);
    return answer;
}

bool Study::mate_forced(std::size_t ply) const {
    if (!m_mates) {
        return false;
    }
    if (!m_mate_forced[ply]) {
        const int moves = moves_after(ply);
        m_mate_forced[ply] =
            moves == 0 ||
            m_solver->reaches(at(ply + 1), m_us, solve::Aim::mate(moves)).answer == solve::Answer::yes;
    }
    return *m_mate_forced[ply];
}

bool Study::fails_in(const Position& altered, std::size_t ply) const {
    if (altered.turn() != m_us || !altered.is_legal(move(ply))) {
        return true;
    }
    return worse_in(altered.after(move(ply)), ply + 1);
}

bool Study::worse_in(const Position& altered, std::size_t n) const {
    if (altered.turn() == m_us) {
        return false;
    }
    if (mate_forced(n - 1)) {
        const int moves = moves_after(n - 1);
        if (moves == 0) {
            return !altered.is_checkmate();
        }
        return m_solver->reaches(altered, m_us, solve::Aim::mate(moves)).answer == solve::Answer::no;
    }
    const int real = forced(n) - balance(n);
    const int instead = m_settler.worst_reply(altered, m_us) - solve::balance(altered, m_us);
    return real - instead >= 1 || search_sees_less(altered, n);
}

/// A gain too deep for the small search: the solver's search sees it in at(n), and not in `altered`.
bool Study::search_sees_less(const Position& altered, std::size_t n) const {
    const int goal = balance(0) + 1;
    if (forced(n) >= goal || !sound(n - 1, balance(0))) {
        return false;
    }
    return fails_to_win(altered, solve::balance(altered, m_us) + balance(0) - balance(n));
}

bool Study::fails_to_win(const Position& position, int base) const {
    return m_solver->reaches(position, m_us, a_pawn_above(base)).answer == solve::Answer::no;
}

bool Study::only_move(std::size_t ply) const {
    if (m_only_move[ply]) {
        return *m_only_move[ply];
    }
    bool only = true;
    if (mate_forced(ply)) {
        const solve::Mates mates = m_solver->mates(at(ply), moves_after(ply) + 1);
        only = mates.complete && mates.keys.size() == 1 && mates.keys.front() == move(ply);
    } else {
        for (const Move other : at(ply).legal_moves()) {
            only = only && (same_way(other, move(ply)) ||
                            !m_settler.keeps(at(ply).after(other), m_us, forced(ply + 1), 0));
        }
    }
    m_only_move[ply] = only;
    return only;
}

bool Study::only_winner(std::size_t ply) const {
    constexpr int most = 24;
    if (m_only_winner[ply]) {
        return *m_only_winner[ply];
    }
    const int base = balance(0);
    const board::MoveList moves = at(ply).legal_moves();
    bool only = !m_mates && sound(ply, base);
    if (ply == 0 && m_key_alone) {
        only = only && *m_key_alone;
    } else {
        only = only && static_cast<int>(moves.size()) <= most &&
               std::all_of(moves.begin(), moves.end(), [&](Move other) {
                   return same_way(other, move(ply)) || fails_to_win(at(ply).after(other), base);
               });
    }
    m_only_winner[ply] = only;
    return only;
}

std::optional<int> Study::result(const Position& position) const {
    if (position.occupied().count() > solve::EndgameTables::most_men) {
        return std::nullopt;
    }
    const solve::Judgement judgement = m_solver->value(position, m_us);
    if (judgement.certainty != solve::Certainty::proved) {
        return std::nullopt;
    }
    const int mate = judgement.value.mate_in.value_or(0);
    return (mate > 0) - (mate < 0);
}

} // namespace motif
