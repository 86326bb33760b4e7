#include "solve/search.hpp"

#include "solve/eval.hpp"

#include <algorithm>

namespace solve {
namespace {

using board::Move;
using board::Position;

constexpr int deepest_node = longest_path - 34; // leaves room for the quiescence behind it
constexpr int quiet_lift = 180;         // more than a quiet move can add to the value of a quiet position
constexpr int checks_in_quiescence = 2; // plies of quiescence in which quiet checks are tried

std::int16_t to_memo(int score, int ply) {
    const int moved = score > mate_region ? score + ply : score < -mate_region ? score - ply : score;
    return static_cast<std::int16_t>(moved);
}

int from_memo(int score, int ply) {
    return score > mate_region ? score - ply : score < -mate_region ? score + ply : score;
}

bool answers(const Memo& memo, int score, int alpha, int beta) {
    return memo.bound == Bound::exact || (memo.bound == Bound::lower && score >= beta) ||
           (memo.bound == Bound::upper && score <= alpha);
}

} // namespace

std::optional<Found> Search::run(const Position& root, std::span<const board::Hash> before, int depth,
                                 Window window) {
    m_position = root;
    m_path.assign(before.begin(), before.end());
    m_path_begin = 0;
    m_root_depth = std::min(depth, deepest_node);
    m_stopped = false;
    const int score = node(window.alpha, window.beta, m_root_depth, 0, Pass::forbidden);
    if (m_stopped) {
        return std::nullopt;
    }
    const auto& line = m_lines[0];
    return Found{score, Line(line.begin(), line.begin() + m_line_ends[0])};
}

Line Search::remembered_line(const Position& root, std::size_t longest) const {
    Line line;
    Position position = root;
    std::vector<board::Hash> seen{position.hash()};
    while (line.size() < longest) {
        const Memo* memo = m_memory.find(position.hash());
        if (memo == nullptr || !memo->best || !position.is_legal(memo->best)) {
            break;
        }
        line.push_back(memo->best);
        position.make(memo->best);
        if (std::find(seen.begin(), seen.end(), position.hash()) != seen.end()) {
            break;
        }
        seen.push_back(position.hash());
    }
    return line;
}

bool Search::repeats() const {
    const board::Hash hash = m_position.hash();
    const auto back =
        static_cast<std::size_t>(m_position.halfmoves()); // none repeats past a capture or pawn move
    for (std::size_t i = 4; i <= back && i + m_path_begin <= m_path.size(); i += 2) {
        if (m_path[m_path.size() - i] == hash) {
            return true;
        }
    }
    return false;
}

void Search::lengthen(int ply, Move move) {
    const auto at = static_cast<std::size_t>(ply);
    const auto tail = m_lines[at + 1].begin();
    m_lines[at][0] = move;
    const int length = std::min(m_line_ends[at + 1], longest_path - 1);
    std::copy(tail, tail + length, m_lines[at].begin() + 1);
    m_line_ends[at] = length + 1;
}

void Search::store(int score, int alpha, int beta, int depth, int ply, Move best) {
    const Bound bound = score >= beta ? Bound::lower : score > alpha ? Bound::exact : Bound::upper;
    m_memory.store({m_position.hash(), to_memo(score, ply), static_cast<std::int16_t>(depth), best, bound});
}

/// A side that may pass and still reaches beta reaches it by a move too, but for zugzwang: so a search
/// without passing, at the same lesser depth, must say the same.
bool Search::pass_holds(int beta, int depth, int ply) {
    const auto passed = m_position.passed();
    if (!passed) {
        return false;
    }
    const int less = depth - 3 - depth / 5;
    const Position kept = m_position;
    const std::size_t path_begin = m_path_begin;
    m_path_begin = m_path.size();
    m_position = *passed;
    const int score = -node(-beta, -beta + 1, less, ply + 1, Pass::forbidden);
    m_position = kept;
    m_path_begin = path_begin;
    return !m_stopped && score >= beta && node(beta - 1, beta, less, ply, Pass::forbidden) >= beta &&
           !m_stopped;
}

int Search::child(int alpha, int beta, int depth, int ply, int reduction, bool first, bool open_window) {
    if (first) {
        return -node(-beta, -alpha, depth, ply + 1, Pass::allowed);
    }
    int score = -node(-alpha - 1, -alpha, depth - reduction, ply + 1, Pass::allowed);
    if (score > alpha && reduction > 0 && !m_stopped) {
        score = -node(-alpha - 1, -alpha, depth, ply + 1, Pass::allowed);
    }
    if (open_window && score > alpha && score < beta && !m_stopped) {
        score = -node(-beta, -alpha, depth, ply + 1, Pass::allowed);
    }
    return score;
}

int Search::node(int alpha, int beta, int depth, int ply, Pass pass) {
    m_line_ends[static_cast<std::size_t>(ply)] = 0;
    if (ply > 0 && (repeats() || m_position.is_dead())) {
        return 0;
    }
    const bool in_check = m_position.in_check();
    if (in_check && ply > 0 && ply < 2 * m_root_depth) {
        ++depth;
    }
    if (depth <= 0 || ply >= deepest_node) {
        return quiet(alpha, beta, ply, checks_in_quiescence);
    }
    if (!m_account.spend()) {
        m_stopped = true;
        return 0;
    }
    alpha = std::max(alpha, -mate_score + ply);
    beta = std::min(beta, mate_score - ply - 1);
    if (alpha >= beta) {
        return alpha;
    }
    const bool open_window = beta - alpha > 1;
    Move first;
    if (const Memo* memo = m_memory.find(m_position.hash())) {
        const int score = from_memo(memo->score, ply);
        if (ply > 0 && !open_window && memo->depth >= depth && answers(*memo, score, alpha, beta)) {
            return score;
        }
        first = memo->best;
    }
    const int standing = in_check ? -infinite : evaluate(m_position);
    if (!open_window && !in_check && pass == Pass::allowed && depth >= 2 && standing >= beta &&
        !is_mate(beta) && has_officers(m_position, m_position.turn()) && pass_holds(beta, depth, ply)) {
        return beta;
    }
    if (m_stopped) {
        return 0;
    }

    Picker picker(m_position, first, m_experience, ply);
    board::MoveList quiet_tried;
    const int old_alpha = alpha;
    const bool frontier = depth == 1 && !in_check && !open_window && !is_mate(alpha) &&
                          has_officers(m_position, m_position.turn()) && standing + quiet_lift <= alpha;
    int best = -infinite;
    Move best_move;
    int count = 0;
    m_path.push_back(m_position.hash());
    while (const Move move = picker.next()) {
        const bool calm = picker.was_quiet();
        const bool queening_near = !move.is_promotion() &&
                                   m_position.at(move.from())->role == board::Role::pawn &&
                                   board::relative_rank(m_position.turn(), move.to()) >= 5;
        const auto undo = m_position.make(move);
        const bool quiet_move = calm && !m_position.in_check() && !queening_near;
        if (frontier && quiet_move && count > 0) {
            m_position.unmake(move, undo);
            best = std::max(best, standing + quiet_lift);
            continue;
        }
        int reduction = 0;
        if (depth >= 3 && quiet_move && !in_check && count >= (open_window ? 6 : 4)) {
            reduction = depth >= 6 && count >= 12 ? 2 : 1;
        }
        const int score = child(alpha, beta, depth - 1, ply, reduction, count == 0, open_window);
        m_position.unmake(move, undo);
        if (m_stopped) {
            break;
        }
        ++count;
        if (score > best) {
            best = score;
            best_move = move;
        }
        if (score > alpha) {
            alpha = score;
            lengthen(ply, move);
        }
        if (alpha >= beta) {
            if (calm) {
                m_experience.reward(m_position.turn(), ply, depth, move, quiet_tried);
            }
            break;
        }
        if (calm) {
            quiet_tried.push(move);
        }
    }
    m_path.pop_back();
    if (m_stopped) {
        return 0;
    }
    if (count == 0) {
        return in_check ? -mate_score + ply : 0;
    }
    store(best, old_alpha, beta, depth, ply, best_move);
    return best;
}

} // namespace solve
