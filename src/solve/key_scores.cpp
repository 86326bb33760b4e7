#include "solve/key_table.hpp"

#include <algorithm>

namespace solve {
namespace {

constexpr int refuted_by =
    100;                       // a key that falls this far below the goal, and no less, may be called refuted
constexpr int won_score = 200; // where only a draw was asked: more than that is won
constexpr int noise = 30; // what the small terms of the value may err by: as good as the key means surely so
constexpr int deeper_for_key = 3; // plies past the least depth that rivals follow a key that shows late
constexpr int deepest_equal =
    6;                         // plies past the least depth up to which key and rival are held at equal depth
constexpr int far_below = 500; // a rook: what is missing by more is seldom only deep
constexpr Nodes appeal = 8;    // shares of a value that a key gets before it is called refuted
constexpr Nodes most_shares = 4;       // of a value, for the last attempt at what is undecided
constexpr std::size_t most_alarms = 6; // rivals that are compared with the key at length; more prove no more
constexpr std::size_t most_left = 3;   // rivals that are given more where they alone leave something open

} // namespace

void TableMaker::judge_by_scores() {
    settle_key();
    m_decided_before = !m_question.mate_in && !m_question.draw_suffices &&
                       key_value() >= m_question.goal_score &&
                       100 * balance(m_root, m_solver) >= m_question.goal_score;
    set_rungs();
    if (m_question.mate_in) {
        judge_key();
        return; // rivals of a mate that could not be excluded stay open
    }
    {
        const Nodes kept = std::min(m_tools.account.left(), (most_left + 1) * m_tools.budget.value);
        const Account::Share share(m_tools.account, m_tools.account.left() - (key_wins() ? 0 : kept));
        try_rivals(m_tools.budget.question);
        confirm_alarms();
        try_rivals(2 * m_tools.budget.question); // those for whom the key's value has moved
        hear_appeal();
        look_further();
    }
    settle_last();
    if (key_wins()) { // it came to that late: what was kept is for it
        look_further();
    }
    judge_key();
    for (Candidate& rival : rivals()) {
        conclude(rival);
    }
}

std::optional<int> TableMaker::key_at_most() const {
    const auto known = exact(key());
    const bool deep = key().trial.depth() >= m_tools.budget.depth;
    return known ? known : deep ? std::optional(key().trial.highest_lately()) : std::nullopt;
}

/// Nothing can be said yet of the key: neither that it reaches the goal nor that nothing comes near it.
bool TableMaker::undecided() const {
    const bool reaches = exact(key()) || key().trial.lowest_lately() >= m_question.goal_score;
    const bool quiet = key().trial.swing() <= settled_swing;
    const auto all = rivals();
    const bool leads = std::all_of(all.begin(), all.end(), [&](const Candidate& rival) {
        return settled(rival) && rungs_reached(rival) <= 0;
    });
    return !(reaches || (quiet && leads) || (key_fails() && beaten()));
}

/// Deep combinations need more than most puzzles do: what is undecided gets the shares of several, one alone
/// where the key stands still, away from the goal.
void TableMaker::look_further() {
    if (m_question.draw_suffices) {
        return;
    }
    const auto worth = [&] {
        const bool at_goal = key().trial.highest_lately() >= m_question.goal_score - settled_swing;
        return key().trial.swing() <= settled_swing && !at_goal ? 1 : most_shares;
    };
    for (Nodes shares = 1; shares <= worth() && undecided() && m_tools.account.left() > 0; shares *= 2) {
        {
            const Account::Share share(m_tools.account, shares * m_tools.budget.value);
            while (undecided() && !key().trial.ended() && deepen_key()) {
            }
        }
        const Account::Share share(m_tools.account, 2 * shares * m_tools.budget.value); // for them alone
        try_rivals(2 * shares * m_tools.budget.question);
        confirm_alarms();
    }
}

/// The key's value: deeper until it stands still; one that seems to fail gets all there is before it is given
/// up.
void TableMaker::settle_key() {
    Trial& trial = key().trial;
    if (key().mate || trial.exact()) {
        return;
    }
    const Account::Share share(m_tools.account, m_tools.budget.value);
    while (trial.depth() < deepest_question && trial.deepen_exactly(m_tools.search)) {
        if (trial.ended()) {
            break;
        }
        const bool fails = trial.score() < m_question.goal_score && !m_question.draw_suffices;
        if (!fails && trial.depth() >= m_tools.budget.depth && trial.swing() <= settled_swing) {
            break;
        }
    }
    if (is_mate(trial.score()) && trial.score() > 0 && !m_question.mate_in) {
        find_long_mate(key());
    }
    m_seen_from = trial.seen_from(m_question.near);
    key().nodes += share.spent();
}

/// What is known for certain of a first move, seen like the trials from the position after it.
std::optional<int> TableMaker::exact(const Candidate& candidate) {
    return candidate.mate ? std::optional(mating_score(*candidate.mate) + 1) : candidate.trial.exact();
}

int TableMaker::key_value() const {
    return exact(key()).value_or(key().trial.score());
}

/// What the rivals are measured by.
std::vector<TableMaker::Rung> TableMaker::rungs_for(int value) const {
    const int goal = m_question.goal_score;
    const int near = m_question.near;
    const Rung wins_less{goal, Standing::also_wins, Answer::yes};
    if (m_question.draw_suffices) {
        return {{lost_score, Standing::open, Answer::open},
                {held_score, Standing::as_good, Answer::yes},
                {std::max(goal, won_score), Standing::better, Answer::yes}};
    }
    std::vector<Rung> rungs;
    if (is_mate(value) && value > 0) {
        if (!m_decided_before) {
            rungs.push_back(wins_less);
        }
        rungs.push_back({value, Standing::as_good, Answer::yes});
        rungs.push_back({value + 1, Standing::better, Answer::yes});
        return rungs;
    }
    if (value < goal) { // no rival is a cook of a goal that it does not reach either; does one do better?
        return {{value - near, Standing::falls_short, Answer::no},
                {std::max(value + near, held_score), Standing::falls_short, Answer::no},
                {std::max({goal, value + near, held_score}) + 1, Standing::better, Answer::yes}};
    }
    const int as_good = value - near + noise;
    if (!m_decided_before && goal < as_good) {
        rungs.push_back(wins_less);
    }
    rungs.push_back({std::max(goal, as_good), Standing::as_good, Answer::yes});
    rungs.push_back({std::max(goal, as_good) + 2 * near, Standing::better, Answer::yes});
    if (m_decided_before) {
        rungs.front().score = as_good;
    }
    return rungs;
}

void TableMaker::set_rungs() {
    m_rungs = rungs_for(key_value());
    m_scores.clear();
    for (const Rung& rung : m_rungs) {
        m_scores.push_back(rung.score);
    }
    for (Candidate& rival : rivals()) {
        rival.trial.measure(m_scores);
    }
}

/// Known exactly, or steady at the depth where the key shows its value (which for a very deep key is asked
/// of nobody else).
bool TableMaker::settled(const Candidate& rival) const {
    return exact(rival) || (rival.trial.steady_for() >= steady_depths && deep_enough(rival));
}

bool TableMaker::deep_enough(const Candidate& rival) const {
    return rival.trial.depth() >=
           std::max(m_tools.budget.depth, std::min(m_seen_from, m_tools.budget.depth + deeper_for_key));
}

/// Not settled, but never as good as the key at any of the last depths.
bool TableMaker::stays_below(const Candidate& rival) const {
    const auto first = std::find_if(m_rungs.begin(), m_rungs.end(), [](const Rung& rung) {
        return rung.standing == Standing::as_good || rung.standing == Standing::better;
    });
    return !key_fails() && deep_enough(rival) && first != m_rungs.end() &&
           rival.trial.below_lately(first->score);
}

int TableMaker::rungs_reached(const Candidate& rival) const {
    const auto known = exact(rival);
    return known ? static_cast<int>(std::upper_bound(m_scores.begin(), m_scores.end(), *known) -
                                    m_scores.begin())
                 : rival.trial.reached();
}

/// All rivals in step, a ply deeper each round; those that clearly fall short leave early.
void TableMaker::try_rivals(Nodes most_each) {
    bool any = true;
    for (int depth = 1; depth <= deepest_question && any; ++depth) {
        any = false;
        for (Candidate& rival : rivals()) {
            if (rival.nodes >= most_each || settled(rival) || rival.trial.depth() >= deepest_question) {
                continue;
            }
            const Account::Share share(m_tools.account, most_each - rival.nodes);
            any = rival.trial.deepen(m_tools.search, m_scores) || any;
            rival.nodes += share.spent();
        }
        if (m_tools.account.left() == 0 || (key_fails() && beaten())) {
            return; // one move that does better is enough
        }
    }
}

/// Rivals that seem to do more than fall short, the best first.
std::vector<TableMaker::Candidate*> TableMaker::alarms() {
    std::vector<Candidate*> found;
    for (Candidate& rival : rivals()) {
        const int reached = rival.trial.reached();
        const bool quiet = reached <= 0 || (key_fails() && reached == 1);
        if (!exact(rival) && !quiet) {
            found.push_back(&rival);
        }
    }
    keep_best(found, most_alarms);
    return found;
}

void TableMaker::keep_best(std::vector<Candidate*>& candidates, std::size_t most) {
    std::stable_sort(candidates.begin(), candidates.end(), [](const Candidate* a, const Candidate* b) {
        return std::pair(-a->trial.reached(), -a->trial.score()) <
               std::pair(-b->trial.reached(), -b->trial.score());
    });
    candidates.resize(std::min(candidates.size(), most));
}

/// What a few rivals leave open is worth more nodes than they were given: a key that wins nothing is no
/// longer alone as soon as one settles near it, so only the likeliest are tried.
void TableMaker::settle_last() {
    if (m_question.draw_suffices) {
        return;
    }
    const auto is_near = [&](const Candidate& rival) { return !key_wins() && rungs_reached(rival) > 0; };
    std::vector<Candidate*> left;
    for (Candidate& rival : rivals()) {
        if (settled(rival) && is_near(rival)) {
            return;
        }
        if (!settled(rival) && !stays_below(rival)) {
            left.push_back(&rival);
        }
    }
    if (key_wins() && left.size() > most_left) {
        return;
    }
    keep_best(left, most_left);
    const Nodes kept = std::min(m_tools.account.left(), m_tools.budget.value); // for who asks further
    const Account::Share all(m_tools.account, m_tools.account.left() - kept);
    for (Nodes shares = 1; shares <= most_shares; shares *= 2) {
        for (Candidate* rival : left) {
            const Account::Share share(m_tools.account, shares * m_tools.budget.value);
            while (!settled(*rival) && rival->trial.depth() < deepest_question &&
                   rival->trial.deepen(m_tools.search, m_scores)) {
            }
            if (settled(*rival) && is_near(*rival)) {
                return;
            }
        }
    }
}

bool TableMaker::deepen_key() {
    Trial& trial = key().trial;
    if (exact(key()) || trial.ended()) {
        return true;
    }
    const int before = trial.score();
    if (!trial.deepen_exactly(m_tools.search)) {
        return false;
    }
    if (is_mate(trial.score()) || std::abs(trial.score() - before) > noise) {
        m_seen_from = trial.seen_from(m_question.near);
        set_rungs();
    }
    return true;
}

/// A rival that seems as good is an alarm: key and rival are compared again, deeper and at equal depth.
void TableMaker::confirm_alarms() {
    const std::vector<Candidate*> alarmed = alarms();
    if (alarmed.empty()) {
        return;
    }
    const Account::Share share(m_tools.account, 2 * m_tools.budget.value);
    for (int round = 0; round <= steady_depths; ++round) {
        for (Candidate* rival : alarmed) {
            while (rival->trial.depth() < std::max(key().trial.depth(), m_tools.budget.depth) ||
                   rival->trial.steady_for() < steady_depths) {
                if (rival->trial.depth() >= deepest_question ||
                    !rival->trial.deepen(m_tools.search, m_scores)) {
                    break;
                }
            }
        }
        if (m_tools.account.exhausted() || !deepen_key()) {
            return;
        }
    }
}

/// A key about to be called refuted is searched much deeper first: what seems lost at review is often only
/// deep.
void TableMaker::hear_appeal() {
    if (key().judged || exact(key()) || !key_fails() || !beaten()) {
        return;
    }
    const bool hopeless = key().trial.highest_lately() < failing_below() - far_below;
    const Account::Share share(m_tools.account, (hopeless ? 1 : appeal) * m_tools.budget.value);
    while (key_fails() && !m_tools.account.exhausted() && !key().trial.ended() && deepen_key()) {
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
    const int goal = m_question.mate_in         ? mating_score(*m_question.mate_in) + 1
                     : m_question.draw_suffices ? held_score
                                                : m_question.goal_score;
    if (exact(it)) {
        it.reaches = key_value() >= goal ? Answer::yes : Answer::no;
        it.certainty = Certainty::proved;
    } else if (m_question.mate_in || (it.trial.depth() < m_tools.budget.depth && !it.trial.ended())) {
        return; // a mate that could be neither proved nor excluded
    } else if (it.trial.lowest_lately() >= goal) {
        it.reaches = Answer::yes;
        it.certainty = Certainty::searched;
    } else if (it.trial.highest_lately() < failing_below() && beaten()) {
        it.reaches = Answer::no;
        it.certainty = Certainty::searched;
    }
}

int TableMaker::failing_below() const {
    return m_question.draw_suffices ? lost_score : m_question.goal_score - refuted_by;
}

bool TableMaker::key_wins() const {
    return key_value() >= m_question.goal_score;
}

bool TableMaker::key_fails() const {
    return key_value() < failing_below();
}

/// Is some rival settled above a key that fails?
bool TableMaker::beaten() const {
    const auto all = rivals();
    return std::any_of(all.begin(), all.end(),
                       [&](const Candidate& rival) { return settled(rival) && rungs_reached(rival) >= 2; });
}

/// For a failing key the lowest rung lies `near` below it.
bool TableMaker::below_key(const Candidate& rival) const {
    const bool below_goal = !m_rungs.empty() && m_rungs.front().standing == Standing::falls_short;
    return rival.standing == Standing::also_wins || (rival.standing == Standing::less && !below_goal) ||
           (rival.standing == Standing::falls_short && (!below_goal || rungs_reached(rival) <= 0));
}

void TableMaker::conclude(Candidate& rival) {
    if (rival.standing) {
        return;
    }
    const bool known = exact(rival).has_value();
    const int reached = rungs_reached(rival);
    if (!settled(rival)) {
        const bool less = !m_question.draw_suffices && stays_below(rival);
        rival.standing = less ? Standing::less : Standing::open;
        rival.certainty = less ? Certainty::searched : Certainty::open;
        return;
    }
    if (reached == 0) {
        rival.standing = Standing::falls_short;
        rival.reaches = m_decided_before ? Answer::open : Answer::no;
    } else {
        const Rung& rung = m_rungs[static_cast<std::size_t>(reached) - 1];
        const bool alarm = rung.standing == Standing::as_good || rung.standing == Standing::better;
        const bool shallow =
            !known && !key_fails() &&
            rival.trial.depth() + 1 < std::min(key().trial.depth(), m_tools.budget.depth + deepest_equal);
        rival.standing = alarm && shallow && !m_question.draw_suffices ? Standing::open : rung.standing;
        rival.reaches = *rival.standing == Standing::open ? Answer::open : rung.reaches;
    }
    rival.certainty = *rival.standing == Standing::open                  ? Certainty::open
                      : known && exact(key()) && key().mate_line.empty() ? Certainty::proved
                                                                         : Certainty::searched;
}

} // namespace solve
