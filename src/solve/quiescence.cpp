#include "solve/search.hpp"

#include "solve/eval.hpp"

#include <algorithm>

namespace solve {
namespace {

using board::Move;

constexpr int capture_lift = 180; // more than a capture can add beside the man taken

} // namespace

/// Captures, queenings and a few checks until nothing more is to be had; the side to move may stand still.
int Search::quiet(int alpha, int beta, int ply, int checks_left) {
    m_line_ends[static_cast<std::size_t>(ply)] = 0;
    if (!m_account.spend()) {
        m_stopped = true;
        return 0;
    }
    if (m_position.is_dead()) {
        return 0;
    }
    if (const auto exact = m_endgames.score(m_position, ply)) {
        return *exact;
    }
    if (ply >= longest_path - 1) {
        return evaluate(m_position);
    }
    if (m_position.in_check()) {
        return evasions(alpha, beta, ply, checks_left);
    }
    if (!m_position.has_legal_move()) {
        return 0;
    }
    const Memo* memo = m_memory.find(m_position.hash());
    const bool keeps = checks_left == checks_in_quiescence; // memos are all of searches with the same checks
    if (keeps && memo != nullptr && beta - alpha == 1 && memo->answers(alpha, beta, ply)) {
        return memo->score_at(ply);
    }
    const Move first = memo != nullptr ? memo->best : Move();
    const int standing = evaluate(m_position);
    if (standing >= beta) {
        return standing;
    }
    const int old_alpha = alpha;
    int best = standing;
    Move best_move;
    alpha = std::max(alpha, standing);
    Picker picker(m_position, first, checks_left > 0 ? Picker::Quiet::checks : Picker::Quiet::none);
    const bool cut_small = !is_mate(alpha) && has_officers(m_position, !m_position.turn());
    while (const Move move = picker.next()) {
        const auto taken = m_position.captured(move);
        const int hoped = standing + 100 * (taken ? board::value_of(*taken) : 0) + capture_lift;
        const bool small = cut_small && taken && !move.is_promotion() && hoped <= alpha;
        const auto undo = m_position.make(move);
        m_memory.expect(m_position.hash());
        if (small && !m_position.in_check()) {
            m_position.unmake(move, undo);
            best = std::max(best, hoped);
            continue;
        }
        const int score = -quiet(-beta, -alpha, ply + 1, std::max(0, checks_left - 1));
        m_position.unmake(move, undo);
        if (m_stopped) {
            return 0;
        }
        if (score > best) {
            best = score;
            best_move = move;
        }
        if (score > alpha) {
            alpha = score;
            lengthen(ply, move);
        }
        if (alpha >= beta) {
            break;
        }
    }
    if (keeps) {
        store(best, old_alpha, beta, 0, ply, best_move);
    }
    return best;
}

int Search::evasions(int alpha, int beta, int ply, int checks_left) {
    Picker picker(m_position, Move(), m_experience, ply);
    int best = -mate_score + ply;
    while (const Move move = picker.next()) {
        const auto undo = m_position.make(move);
        m_memory.expect(m_position.hash());
        const int score = -quiet(-beta, -alpha, ply + 1, checks_left);
        m_position.unmake(move, undo);
        if (m_stopped) {
            return 0;
        }
        best = std::max(best, score);
        if (score > alpha) {
            alpha = score;
            lengthen(ply, move);
        }
        if (alpha >= beta) {
            break;
        }
    }
    return best;
}

} // namespace solve
