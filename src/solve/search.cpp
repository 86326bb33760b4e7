#include "solve/search.hpp"

#include "solve/eval.hpp"

#include <algorithm>

namespace solve {
namespace {

using board::Move;
using board::Position;

constexpr int deepest_node = longest_path - 34; // leaves room for the quiescence behind it
constexpr int quiet_lift = 180; // more than a quiet move can add to the value of a quiet position
constexpr int last_plies = 3;   // to go, in which quiet moves may be left out
constexpr int unknown_from = 4; // plies to go from which a node of which nothing is remembered waits a ply

/// A pawn that comes within two steps of queening.
bool is_far_advance(const Position& position, Move move) {
    return position.pieces(board::Role::pawn).contains(move.from()) &&
           board::relative_rank(position.turn(), move.to()) >= 5;
}

int reduction_of(int depth, int count, bool open_window) {
    if (depth < 3 || count < (open_window ? 3 : 2)) {
        return 0;
    }
    return 1 + (count >= 6 ? 1 : 0) + (depth >= 6 && count >= 12 ? 1 : 0) +
           (depth >= 8 && count >= 24 ? 1 : 0);
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
    m_memory.store(
        {m_position.hash(), Memo::score_from(score, ply), static_cast<std::int16_t>(depth), best, bound});
}

/// In the last plies no quiet move can lift the value to alpha.
bool Search::Visit::hopeless() const {
    return depth <= last_plies && !open() && has_officers && !is_mate(alpha) &&
           standing + quiet_lift * depth <= alpha;
}

/// In the last plies so many moves have failed that a quiet one, tried this late, seldom does better; deeper
/// searches look at it again. Not in pawn endings, where quiet moves are all there is.
bool Search::Visit::has_tried_enough(int count, int best) const {
    return depth <= last_plies && !open() && has_officers && best > -mate_region &&
           count > 4 + 2 * depth * depth;
}

bool Search::may_pass(const Visit& visit) {
    return visit.depth >= 2 && !visit.open() && !visit.in_check && visit.has_officers &&
           visit.standing >= visit.beta && !is_mate(visit.beta);
}

/// A side that may pass and still reaches beta reaches it by a move too, but for zugzwang: so a search
/// without passing, at the same lesser depth, must say the same.
bool Search::pass_holds(int beta, int depth, int ply) {
    const auto passed = m_position.passed();
    if (!passed) {
        return false;
    }
    const int less = depth - 3 - depth / 3;
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

int Search::node(int alpha, int beta, int depth, int ply, Pass pass) {
    m_line_ends[static_cast<std::size_t>(ply)] = 0;
    if (ply > 0 && (repeats() || m_position.is_dead())) {
        return 0;
    }
    if (const auto exact = m_endgames.score(m_position, ply); exact && ply > 0) {
        return *exact;
    }
    const bool in_check = m_position.in_check();
    if (in_check && ply > 0 && ply < 2 * m_root_depth) {
        depth += m_position.legal_moves().size() == 1 ? 2 : 1; // a forced reply is no choice
    }
    if (depth <= 0 || ply >= deepest_node) {
        return quiet(alpha, beta, ply, checks_in_quiescence);
    }
    if (!m_account.spend()) {
        m_stopped = true;
        return 0;
    }
    Visit visit{std::max(alpha, -mate_score + ply), std::min(beta, mate_score - ply - 1), depth, ply,
                in_check};
    if (visit.alpha >= visit.beta) {
        return visit.alpha;
    }
    if (const Memo* memo = m_memory.find(m_position.hash())) {
        if (ply > 0 && !visit.open() && memo->depth >= depth && memo->answers(visit.alpha, visit.beta, ply)) {
            return memo->score_at(ply);
        }
        visit.first = memo->best;
    }
    visit.standing = in_check ? -infinite : evaluate(m_position);
    visit.has_officers = has_officers(m_position, m_position.turn());
    if (!visit.first && visit.has_officers && ply > 0 && depth >= unknown_from) {
        --visit.depth; // finds a move to begin with; the next depth looks as far as this one should have
    }
    if (pass == Pass::allowed && may_pass(visit) && pass_holds(visit.beta, visit.depth, ply)) {
        return visit.beta;
    }
    return m_stopped ? 0 : best_move(visit);
}

/// Tries the moves in order, remembers and returns the best score.
int Search::best_move(Visit visit) {
    const int old_alpha = visit.alpha;
    int best = -infinite;
    Move best_move;
    int count = 0;
    board::MoveList quiet_tried;
    Picker picker(m_position, visit.first, m_experience, visit.ply);
    m_path.push_back(m_position.hash());
    while (const Move move = picker.next()) {
        const bool calm = !m_position.captured(move) && !move.is_promotion();
        const bool advances = is_far_advance(m_position, move);
        const auto undo = m_position.make(move);
        m_memory.expect(m_position.hash());
        const bool late = calm && !advances && !m_position.in_check() && !visit.in_check && count > 0;
        if (late && visit.has_tried_enough(count, best)) {
            m_position.unmake(move, undo);
            continue;
        }
        if (late && visit.hopeless()) {
            m_position.unmake(move, undo);
            best = std::max(best, visit.standing + quiet_lift * visit.depth);
            continue;
        }
        const int score = try_move(visit, count, late);
        m_position.unmake(move, undo);
        if (m_stopped) {
            break;
        }
        ++count;
        if (score > best) {
            best = score;
            best_move = move;
        }
        if (score > visit.alpha) {
            visit.alpha = score;
            lengthen(visit.ply, move);
        }
        if (visit.alpha >= visit.beta) {
            if (calm) {
                m_experience.reward(m_position.turn(), visit.ply, visit.depth, move, quiet_tried);
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
        return visit.in_check ? -mate_score + visit.ply : 0;
    }
    store(best, old_alpha, visit.beta, visit.depth, visit.ply, best_move);
    return best;
}

/// The score of the move just made: a zero window first, less deep for a late quiet move, and again as
/// needed.
int Search::try_move(const Visit& visit, int count, bool late) {
    const int depth = visit.depth - 1;
    const int ply = visit.ply + 1;
    if (count == 0) {
        return -node(-visit.beta, -visit.alpha, depth, ply, Pass::allowed);
    }
    const int reduction = late ? reduction_of(visit.depth, count, visit.open()) : 0;
    int score = -node(-visit.alpha - 1, -visit.alpha, depth - reduction, ply, Pass::allowed);
    if (score > visit.alpha && reduction > 0 && !m_stopped) {
        score = -node(-visit.alpha - 1, -visit.alpha, depth, ply, Pass::allowed);
    }
    if (visit.open() && score > visit.alpha && score < visit.beta && !m_stopped) {
        score = -node(-visit.beta, -visit.alpha, depth, ply, Pass::allowed);
    }
    return score;
}

} // namespace solve
