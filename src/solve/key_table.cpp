#include "solve/key_table.hpp"

#include <algorithm>
#include <utility>

namespace solve {
namespace {

using board::Move;
using board::Position;
using Scope = MateProver::Scope;

constexpr int unknown_score = -10'000; // of a move that only failed to mate: below all others

} // namespace

TableMaker::TableMaker(Tools& tools, const Position& root, const Question& question)
    : m_tools(tools), m_root(root), m_question(question), m_solver(root.turn()) {
    for (const Move move : root.legal_moves()) {
        m_candidates.push_back(
            {.move = move, .trial = Trial(root.after(move), m_solver, {root.hash()}, tools.endgames)});
    }
}

KeyTable TableMaker::make() {
    const Account::Share all(m_tools.account, m_tools.account.left());
    if (!m_candidates.empty()) {
        find_mates();
        choose_key();
        if (m_question.mate_in) {
            judge_by_mates();
        }
        const auto is_judged = [](const Candidate& c) { return c.judged; };
        if (!std::all_of(m_candidates.begin(), m_candidates.end(), is_judged)) {
            judge_by_scores();
        }
    }
    KeyTable table = write();
    table.nodes = all.spent();
    return table;
}

/// All mates by length. A mate goal wants every length up to its own; else the shortest is enough.
void TableMaker::find_mates() {
    const Account::Share share(m_tools.account, m_tools.budget.mate);
    const int goal = m_question.mate_in.value_or(0);
    for (int length = 1; length <= std::max(goal, m_tools.budget.mate_moves); ++length) {
        if (m_shortest && length > goal) {
            break;
        }
        for (Candidate& candidate : m_candidates) {
            if (candidate.mate) {
                continue;
            }
            Position after = candidate.trial.position();
            if (m_tools.prover.survives_not(after, length - 1, Scope::all)) {
                candidate.mate = length;
                m_shortest = m_shortest.value_or(length);
            }
            if (m_tools.prover.stopped()) {
                return;
            }
        }
        m_mates_to = length;
    }
    m_mates_complete = true;
}

void TableMaker::choose_key() {
    const auto find = [&](auto&& fits) {
        return std::find_if(m_candidates.begin(), m_candidates.end(), fits);
    };
    auto chosen = m_candidates.end();
    if (m_question.key) {
        chosen = find([&](const Candidate& c) { return c.move == *m_question.key; });
    } else if (m_shortest) {
        chosen = find([&](const Candidate& c) { return c.mate == m_shortest; });
    }
    if (chosen == m_candidates.end()) { // no key printed, or one that is no legal move
        const Move best = best_by_search();
        chosen = find([&](const Candidate& c) { return c.move == best; });
    }
    std::rotate(m_candidates.begin(), chosen, chosen + 1);
    key().standing = Standing::key;
}

Move TableMaker::best_by_search() {
    const Account::Share share(m_tools.account, m_tools.budget.value);
    Trial trial(m_root, m_solver, {}, m_tools.endgames);
    while (trial.depth() < deepest_question && trial.deepen_exactly(m_tools.search)) {
        if (trial.depth() >= m_tools.budget.depth && trial.swing() <= settled_swing) {
            break;
        }
    }
    return trial.line().empty() ? m_candidates.front().move : trial.line().front();
}

/// A mate longer than the complete search reaches: by checks alone, else by proof numbers.
void TableMaker::find_long_mate(Candidate& candidate) {
    const Account::Share share(m_tools.account, m_tools.budget.mate);
    Position after = candidate.trial.position();
    if (m_question.mate_in) {
        const Account::Share part(m_tools.account, m_tools.budget.mate / 4);
        if (const auto left = m_tools.prover.shortest_after(after, *m_question.mate_in - 1, Scope::checks)) {
            candidate.mate = *left + 1;
            candidate.mate_line = m_tools.prover.longest_defence_after(after, *left, Scope::checks);
            return;
        }
    }
    // A length that may be too long says nothing against a goal that is shorter.
    const auto found = m_tools.long_prover.find_after(after);
    const auto goal = m_question.mate_in;
    if (found && (!goal || found->moves < *goal || found->shortest)) {
        candidate.mate = found->moves + 1;
        candidate.mate_line = found->line;
    }
}

/// Goal mate in N. Where the prover came to its end everything is proved.
void TableMaker::judge_by_mates() {
    const int goal = *m_question.mate_in;
    if (m_mates_to < goal && !key().mate) { // a long mate may still be proved by its checks
        find_long_mate(key());
    }
    const int aim = key().mate.value_or(goal);
    for (Candidate& candidate : m_candidates) {
        const bool reaches = candidate.mate && *candidate.mate <= goal;
        if (!reaches && m_mates_to < goal) {
            continue;
        }
        candidate.certainty = Certainty::proved;
        candidate.reaches = reaches ? Answer::yes : Answer::no;
        candidate.judged = true;
        if (!candidate.standing) {
            candidate.standing = !reaches                 ? Standing::falls_short
                                 : *candidate.mate < aim  ? Standing::better
                                 : *candidate.mate == aim ? Standing::as_good
                                                          : Standing::also_wins;
        }
    }
}

MoveVerdict TableMaker::write(Candidate& candidate) {
    MoveVerdict verdict;
    verdict.move = candidate.move;
    verdict.standing = candidate.standing.value_or(Standing::open);
    verdict.reaches_goal = candidate.reaches;
    verdict.certainty = candidate.certainty;
    verdict.below_key = below_key(candidate);
    verdict.nodes = candidate.nodes;
    verdict.line = {candidate.move};
    const Trial& trial = candidate.trial;
    Position after = trial.position();
    Line rest;
    if (candidate.mate) {
        verdict.value = value_of(mating_score(*candidate.mate));
        rest = candidate.mate_line.empty()
                   ? m_tools.prover.longest_defence_after(after, *candidate.mate - 1, Scope::all)
                   : candidate.mate_line;
        verdict.value_is = candidate.mate_line.empty() ? ValueIs::exact : ValueIs::at_least;
    } else if (const auto exact = trial.exact()) {
        verdict.value = value_of(one_ply_up(*exact));
        rest = m_tools.endgames.best_play(after, shown_plies);
    } else if (trial.depth() > 0) {
        verdict.value = value_of(one_ply_up(trial.score()));
        verdict.value_is = trial.score_is();
        verdict.depth = trial.depth() + 1;
        rest = trial.score_is() == ValueIs::exact ? trial.line()
                                                  : m_tools.search.remembered_line(after, shown_plies);
    } else {
        verdict.value.score = unknown_score;
        verdict.value_is = ValueIs::at_least;
        if (const Move reply = m_tools.prover.refutation(after, Scope::all)) {
            rest = {reply};
        } else if (const auto replies = after.legal_moves(); m_question.mate_in == 1 && !replies.empty()) {
            rest = {replies[0]}; // any reply defends
        }
    }
    verdict.line.insert(verdict.line.end(), rest.begin(), rest.end());
    prove_blunder(verdict, after);
    return verdict;
}

/// A move that lets itself be mated at once falls short of any goal but a lost one, and no search is needed
/// to say so.
void TableMaker::prove_blunder(MoveVerdict& verdict, Position& after) const {
    constexpr int mated_at_once = -1;
    const bool asks_little = !m_question.mate_in && m_question.goal_score <= -mate_region;
    if (verdict.standing != Standing::falls_short || verdict.value.mate_in != mated_at_once || asks_little) {
        return;
    }
    if (m_tools.prover.shortest(after, 1, Scope::all)) {
        verdict.certainty = Certainty::proved;
        verdict.reaches_goal = Answer::no;
    }
}

KeyTable TableMaker::write() {
    KeyTable table;
    table.shortest_mate = m_shortest;
    table.mate_search_complete = m_mates_complete;
    table.mate_searched_to = m_mates_to;
    table.decided_before = m_decided_before;
    table.key_at_most = m_candidates.empty() ? std::nullopt : key_at_most();
    for (Candidate& candidate : m_candidates) {
        table.moves.push_back(write(candidate));
    }
    if (table.moves.size() > 1) {
        std::sort(table.moves.begin() + 1, table.moves.end(), [](const MoveVerdict& a, const MoveVerdict& b) {
            return std::pair(-a.value.score, a.move.raw()) < std::pair(-b.value.score, b.move.raw());
        });
    }
    return table;
}

KeyTable make_key_table(Tools& tools, const Position& position, const Question& question) {
    return TableMaker(tools, position, question).make();
}

} // namespace solve
