#include "solve/tools.hpp"
#include "solve/trial.hpp"

#include <algorithm>
#include <utility>

namespace solve {
namespace {

using board::Color;
using board::Move;
using board::Position;
using Scope = MateProver::Scope;

constexpr std::size_t shown_plies = 16;
constexpr int settled_swing = 40;
constexpr int refuted_by = 100; // a key that falls this far below the goal, and no less, is called refuted
constexpr int won_score = 200;  // where only a draw was asked: more than that is won
constexpr int far_below = -10'000;

/// A first move on trial.
struct Candidate {
    Move move;
    Trial trial;             ///< of the position after it
    std::optional<int> mate; ///< proved: solver's moves, this one included
    std::optional<Standing> standing;
    Certainty certainty = Certainty::open;
    Answer reaches = Answer::open;
    Nodes nodes = 0;
    bool judged = false; ///< nothing more to ask
};

/// A score, and what a rival is when it reaches that and no more.
struct Rung {
    int score;
    Standing standing;
    Answer reaches;
};

class TableMaker {
  public:
    TableMaker(Tools& tools, const Position& root, const Question& question)
        : m_tools(tools), m_root(root), m_question(question), m_solver(root.turn()) {
        for (const Move move : root.legal_moves()) {
            m_candidates.push_back({move,
                                    Trial(root.after(move), m_solver, {root.hash()}),
                                    {},
                                    {},
                                    Certainty::open,
                                    Answer::open,
                                    0,
                                    false});
        }
    }

    KeyTable make() {
        const Account::Share all(m_tools.account, m_tools.account.left());
        if (!m_candidates.empty()) {
            find_mates();
            choose_key();
            if (m_question.mate_in) {
                judge_by_mates();
            }
            if (!judged_all()) {
                judge_by_scores();
            }
        }
        KeyTable table = write();
        table.nodes = all.spent();
        return table;
    }

  private:
    Candidate& key() { return m_candidates.front(); }
    [[nodiscard]] bool judged_all() const {
        return std::all_of(m_candidates.begin(), m_candidates.end(),
                           [](const Candidate& c) { return c.judged; });
    }

    void find_mates();
    void choose_key();
    void judge_by_mates();
    void judge_by_scores();
    void settle_key();
    void set_rungs();
    void judge_key();
    [[nodiscard]] int key_value();
    [[nodiscard]] bool settled(const Candidate& candidate) const;
    [[nodiscard]] bool beaten() const;
    void try_rivals();
    void confirm_alarms();
    void deepen(Candidate& candidate, Nodes most);
    void conclude(Candidate& candidate);
    [[nodiscard]] KeyTable write();
    [[nodiscard]] MoveVerdict write(Candidate& candidate);

    Tools& m_tools;
    Position m_root;
    Question m_question;
    Color m_solver;
    std::vector<Candidate> m_candidates; ///< the key first
    std::vector<Rung> m_rungs;
    std::vector<int> m_scores; ///< of the rungs
    std::optional<int> m_shortest;
    int m_mates_to = 0;
    bool m_mates_complete = false;
    bool m_decided_before = false;
    int m_seen_from = 0; ///< depth at which the key shows its value
};

/// All mates by length. A mate goal wants every length up to its own; else the shortest is enough.
void TableMaker::find_mates() {
    const Account::Share share(m_tools.account, m_tools.budget.mate);
    const int limit = m_question.mate_in.value_or(m_tools.budget.mate_moves);
    for (int length = 1; length <= std::max(limit, m_tools.budget.mate_moves); ++length) {
        if (m_shortest && (length > limit || !m_question.mate_in)) {
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
    auto chosen = m_candidates.end();
    if (m_question.key) {
        chosen = std::find_if(m_candidates.begin(), m_candidates.end(),
                              [&](const Candidate& c) { return c.move == *m_question.key; });
    } else if (m_shortest) {
        chosen = std::find_if(m_candidates.begin(), m_candidates.end(),
                              [&](const Candidate& c) { return c.mate == m_shortest; });
    }
    if (chosen ==
        m_candidates.end()) { // no key printed, or one that is no legal move: the best move takes its place
        const Account::Share share(m_tools.account, m_tools.budget.value);
        Trial trial(m_root, m_solver, {});
        while (trial.depth() < deepest_question && trial.deepen_exactly(m_tools.search) &&
               (trial.depth() < m_tools.budget.depth || trial.swing() > settled_swing)) {
        }
        const Move best = trial.line().empty() ? m_candidates.front().move : trial.line().front();
        chosen = std::find_if(m_candidates.begin(), m_candidates.end(),
                              [&](const Candidate& c) { return c.move == best; });
    }
    std::rotate(m_candidates.begin(), chosen, chosen + 1);
    key().standing = Standing::key;
}

/// Goal mate in N. Where the prover came to its end everything is proved.
void TableMaker::judge_by_mates() {
    const int goal = *m_question.mate_in;
    if (m_mates_to < goal && !key().mate) {
        const Account::Share share(m_tools.account, m_tools.budget.mate / 4);
        Position after = key().trial.position();
        if (const auto left = m_tools.prover.shortest_after(after, goal - 1, Scope::checks)) {
            key().mate = *left + 1;
        }
    }
    const bool excluded = m_mates_to >= goal;
    for (Candidate& candidate : m_candidates) {
        const bool is_key = &candidate == &key();
        const bool reaches = candidate.mate && *candidate.mate <= goal;
        if (!reaches && !excluded) {
            continue;
        }
        candidate.certainty = Certainty::proved;
        candidate.reaches = reaches ? Answer::yes : Answer::no;
        candidate.judged = true;
        if (is_key) {
            continue;
        }
        const int aim = key().mate.value_or(goal);
        candidate.standing = !reaches                 ? Standing::falls_short
                             : *candidate.mate < aim  ? Standing::better
                             : *candidate.mate == aim ? Standing::as_good
                                                      : Standing::also_wins;
    }
}

void TableMaker::judge_by_scores() {
    m_decided_before = !m_question.mate_in && !m_question.draw_suffices &&
                       100 * balance(m_root, m_solver) >= m_question.goal_score;
    settle_key();
    set_rungs();
    if (!m_question.mate_in) { // rivals of a mate that could not be excluded stay open
        try_rivals();
        confirm_alarms();
    }
    judge_key();
    if (m_question.mate_in) {
        return;
    }
    for (Candidate& candidate : m_candidates) {
        if (&candidate != &key()) {
            conclude(candidate);
        }
    }
}

/// The key's value: deeper until it stands still; one that seems to fail gets more before it is called
/// refuted.
void TableMaker::settle_key() {
    Trial& trial = key().trial;
    if (key().mate || trial.over()) {
        return;
    }
    const Account::Share share(m_tools.account, 3 * m_tools.budget.value);
    while (trial.depth() < deepest_question) {
        const bool fails = trial.score() < m_question.goal_score && !m_question.draw_suffices;
        const bool settled = trial.depth() >= m_tools.budget.depth && trial.swing() <= settled_swing;
        if (share.spent() >= m_tools.budget.value && (!fails || settled)) {
            break;
        }
        if (settled && !fails) {
            break;
        }
        if (!trial.deepen_exactly(m_tools.search)) {
            break;
        }
    }
    m_seen_from = trial.seen_from(m_question.near);
    key().nodes += share.spent();
}

int TableMaker::key_value() {
    const auto end = final_score(key().trial.position(), m_solver);
    return key().mate ? mating_score(*key().mate) : end ? *end : key().trial.score();
}

/// What the rivals are measured by, in ascending order.
void TableMaker::set_rungs() {
    const int value = key_value();
    const int goal = m_question.goal_score;
    const int near = m_question.near;
    m_rungs.clear();
    if (m_question.draw_suffices) {
        m_rungs = {{lost_score, Standing::open, Answer::open},
                   {held_score, Standing::as_good, Answer::yes},
                   {std::max(goal, won_score), Standing::better, Answer::yes}};
    } else if (is_mate(value) && value > 0) {
        const int as_fast = key().mate ? value : value - 1; // the trial's root is a ply further on
        if (!m_decided_before) {
            m_rungs.push_back({goal, Standing::also_wins, Answer::yes});
        }
        m_rungs.push_back({as_fast, Standing::as_good, Answer::yes});
        m_rungs.push_back({as_fast + 1, Standing::better, Answer::yes});
    } else if (value < goal &&
               !m_decided_before) { // no rival is a cook of a goal that it does not reach either
        m_rungs = {{value - near, Standing::falls_short, Answer::no},
                   {value + near, Standing::falls_short, Answer::no},
                   {std::max(goal, value + near + 1), Standing::better, Answer::yes}};
    } else {
        const int close = value - near;
        if (!m_decided_before && goal < close) {
            m_rungs.push_back({goal, Standing::also_wins, Answer::yes});
        }
        const int as_good = m_decided_before ? close : std::max(goal, close);
        m_rungs.push_back({as_good, Standing::as_good, as_good >= goal ? Answer::yes : Answer::open});
        m_rungs.push_back(
            {value + near, Standing::better, value + near >= goal ? Answer::yes : Answer::open});
    }
    m_scores.clear();
    for (const Rung& rung : m_rungs) {
        m_scores.push_back(rung.score);
    }
}

/// Does the key reach the goal? A no is a grave word: the search must have settled clearly below the goal,
/// and some other move must be seen to do better, or else the search may simply not see what the key is for.
void TableMaker::judge_key() {
    Candidate& it = key();
    if (it.judged) {
        return;
    }
    it.judged = true;
    const auto end = final_score(it.trial.position(), m_solver);
    const bool deep = it.trial.depth() >= m_tools.budget.depth && it.trial.swing() <= m_question.near;
    if ((m_question.mate_in && !it.mate) || (!it.mate && !end && !deep)) {
        return; // among them a mate that could be neither proved nor excluded
    }
    const int value = key_value();
    const int goal = m_question.draw_suffices ? held_score : m_question.goal_score;
    const int fails = m_question.draw_suffices ? lost_score : goal - refuted_by;
    if (value >= goal) {
        it.reaches = Answer::yes;
    } else if (value < fails && (end || beaten())) {
        it.reaches = Answer::no;
    }
    it.certainty = it.reaches == Answer::open ? Certainty::open
                   : it.mate || end           ? Certainty::proved
                                              : Certainty::searched;
}

bool TableMaker::settled(const Candidate& candidate) const {
    return candidate.trial.steady_for() >= steady_depths &&
           candidate.trial.depth() >= std::max(m_tools.budget.depth, m_seen_from);
}

/// Is some rival settled above the key?
bool TableMaker::beaten() const {
    return std::any_of(m_candidates.begin() + 1, m_candidates.end(), [&](const Candidate& rival) {
        return rival.mate || (settled(rival) && rival.trial.reached() >= 2);
    });
}

void TableMaker::deepen(Candidate& candidate, Nodes most) {
    const Account::Share share(m_tools.account, most);
    if (!candidate.trial.deepen(m_tools.search, m_scores)) {
        candidate.judged = true;
    }
    candidate.nodes += share.spent();
}

/// All rivals in step, a ply deeper each round; those that clearly fall short leave early.
void TableMaker::try_rivals() {
    const int least = std::max(m_tools.budget.depth, m_seen_from);
    bool any = true;
    for (int depth = 1; depth <= deepest_question && any; ++depth) {
        any = false;
        for (Candidate& candidate : m_candidates) {
            if (&candidate == &key() || candidate.judged || candidate.mate || candidate.trial.over() ||
                candidate.nodes >= m_tools.budget.question) {
                continue;
            }
            deepen(candidate, m_tools.budget.question - candidate.nodes);
            const Trial& trial = candidate.trial;
            candidate.judged =
                candidate.judged || (trial.steady_for() >= steady_depths && trial.depth() >= least);
            any = any || !candidate.judged;
        }
    }
}

/// A rival that seems to win is an alarm: key and rival are compared again, deeper and at equal depth.
void TableMaker::confirm_alarms() {
    std::vector<Candidate*> alarms;
    for (Candidate& candidate : m_candidates) {
        if (&candidate != &key() && !candidate.mate && !candidate.trial.over() &&
            candidate.trial.reached() > 0) {
            alarms.push_back(&candidate);
        }
    }
    if (alarms.empty()) {
        return;
    }
    const Account::Share share(m_tools.account, m_tools.budget.value);
    for (int round = 0; round < 2 * steady_depths; ++round) {
        if (!key().mate && !key().trial.over()) {
            const int before = key().trial.score();
            if (key().trial.depth() < deepest_question && !key().trial.deepen_exactly(m_tools.search)) {
                return;
            }
            if (std::abs(key().trial.score() - before) > settled_swing) {
                set_rungs();
            }
        }
        for (Candidate* candidate : alarms) {
            do {
                if (!candidate->trial.deepen(m_tools.search, m_scores)) {
                    return;
                }
            } while (candidate->trial.depth() < key().trial.depth());
        }
    }
}

void TableMaker::conclude(Candidate& candidate) {
    if (candidate.standing) {
        return;
    }
    std::optional<int> score = final_score(candidate.trial.position(), m_solver);
    if (candidate.mate) {
        score = mating_score(*candidate.mate);
    }
    int reached = candidate.trial.reached();
    if (score) {
        const auto above = std::upper_bound(m_scores.begin(), m_scores.end(), *score);
        reached = static_cast<int>(above - m_scores.begin());
    } else if (!settled(candidate)) {
        candidate.standing = Standing::open;
        return;
    }
    if (reached == 0) {
        candidate.standing = Standing::falls_short;
        candidate.reaches =
            m_decided_before || m_scores.front() > m_question.goal_score ? Answer::open : Answer::no;
    } else {
        const Rung& rung = m_rungs[static_cast<std::size_t>(reached) - 1];
        candidate.standing = rung.standing;
        candidate.reaches = rung.reaches;
    }
    candidate.certainty = *candidate.standing == Standing::open ? Certainty::open
                          : score && key().mate                 ? Certainty::proved
                                                                : Certainty::searched;
}

MoveVerdict TableMaker::write(Candidate& candidate) {
    MoveVerdict verdict;
    verdict.move = candidate.move;
    verdict.standing = candidate.standing.value_or(Standing::open);
    verdict.reaches_goal = candidate.reaches;
    verdict.certainty = candidate.certainty;
    verdict.nodes = candidate.nodes;
    verdict.line = {candidate.move};
    Position after = candidate.trial.position();
    Line rest;
    if (candidate.mate) {
        verdict.value = value_of(mating_score(*candidate.mate));
        rest = m_tools.prover.longest_defence_after(after, *candidate.mate - 1, Scope::all);
    } else if (const auto end = final_score(after, m_solver)) {
        verdict.value = value_of(*end);
    } else if (candidate.trial.depth() > 0) {
        verdict.value = value_of(one_ply_up(candidate.trial.score()));
        verdict.value_is_bound = candidate.trial.score_is_bound();
        verdict.depth = candidate.trial.depth() + 1;
        rest = candidate.trial.score_is_bound() ? m_tools.search.remembered_line(after, shown_plies)
                                                : candidate.trial.line();
    } else {
        verdict.value.score = far_below;
        verdict.value_is_bound = true;
        if (const Move reply = m_tools.prover.refutation(after, Scope::all)) {
            rest = {reply};
        }
    }
    verdict.line.insert(verdict.line.end(), rest.begin(), rest.end());
    return verdict;
}

KeyTable TableMaker::write() {
    KeyTable table;
    table.shortest_mate = m_shortest;
    table.mate_search_complete = m_mates_complete;
    table.mate_searched_to = m_mates_to;
    table.decided_before = m_decided_before;
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

} // namespace

KeyTable make_key_table(Tools& tools, const Position& position, const Question& question) {
    return TableMaker(tools, position, question).make();
}

} // namespace solve
