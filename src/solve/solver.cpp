#include "solve/solver.hpp"

#include "solve/tools.hpp"
#include "solve/trial.hpp"

#include <algorithm>
#include <array>

namespace solve {
namespace {

using board::Color;
using board::Position;
using Scope = MateProver::Scope;

constexpr int loose_swing = 100; // and one that moved no more is still told, at the end of the budget

Judgement proved(bool yes, int score) {
    Judgement judgement;
    judgement.answer = yes ? Answer::yes : Answer::no;
    judgement.certainty = Certainty::proved;
    judgement.value = value_of(score);
    return judgement;
}

/// Too long to be searched through: proof numbers may still find it.
Judgement long_mate_aim(Tools& tools, const Position& position, bool own, int moves) {
    const Account::Share share(tools.account, tools.budget.mate);
    const auto found = own ? tools.long_prover.find(position) : tools.long_prover.find_after(position);
    Judgement judgement;
    if (found && (found->moves <= moves || found->shortest)) {
        judgement =
            proved(found->moves <= moves, own ? mating_score(found->moves) : mate_score - 2 * found->moves);
        judgement.line = found->line;
    } else if (tools.long_prover.denied()) {
        judgement = proved(false, 0);
    }
    judgement.nodes = share.spent();
    return judgement;
}

Judgement mate_aim(Tools& tools, Position position, Color solver, int moves) {
    const Account::Share share(tools.account, tools.budget.mate);
    Judgement judgement;
    const bool own = position.turn() == solver;
    const auto least = [&](Scope scope) {
        return own ? tools.prover.shortest(position, moves, scope)
                   : tools.prover.shortest_after(position, moves, scope);
    };
    std::optional<int> length;
    Scope scope = Scope::all;
    if (moves > 3) { // long mates are mostly by checks, and then quickly proved
        const Account::Share part(tools.account, tools.budget.mate / 4);
        scope = Scope::checks;
        length = least(scope);
    }
    if (!length) {
        scope = Scope::all;
        length = least(scope);
    }
    if (!length && tools.prover.stopped()) {
        Judgement longer = long_mate_aim(tools, position, own, moves);
        longer.nodes += share.spent();
        return longer;
    }
    if (length) {
        judgement = proved(true, own ? mating_score(*length) : mate_score - 2 * *length);
        judgement.line = own ? tools.prover.longest_defence(position, *length, scope)
                             : tools.prover.longest_defence_after(position, *length, scope);
    } else if (!tools.prover.stopped()) {
        judgement = proved(false, 0);
        const auto replies = position.legal_moves();
        if (const board::Move reply = tools.prover.refutation(position, scope); !own && reply) {
            judgement.line = {reply};
        } else if (!own && moves == 0 && !replies.empty()) {
            judgement.line = {replies[0]}; // no mate on the board: any reply defends
        }
    }
    judgement.nodes = share.spent();
    return judgement;
}

Judgement score_aim(Tools& tools, const Position& position, Color solver, const Aim& aim) {
    const int score = aim.score;
    Trial trial(position, solver, {}, tools.endgames);
    if (const auto exact = trial.exact()) {
        Judgement judgement = proved(*exact >= score, *exact);
        judgement.line = tools.endgames.best_play(position, shown_plies);
        return judgement;
    }
    const Account::Share share(tools.account, tools.budget.question);
    const std::array thresholds{score - aim.doubt, score};
    while (trial.depth() < deepest_question && trial.deepen(tools.search, thresholds)) {
        // A yes may stand early; a no is a fault of somebody's and has the whole share to be disproved.
        if (trial.reached() == 2 && trial.steady_for() >= steady_depths &&
            trial.depth() >= tools.budget.depth) {
            break;
        }
    }
    Judgement judgement;
    judgement.depth = trial.depth();
    judgement.value = value_of(trial.score());
    judgement.line = tools.search.remembered_line(position, shown_plies);
    judgement.nodes = share.spent();
    if (trial.steady_for() >= steady_depths && trial.depth() >= tools.budget.depth && trial.reached() != 1) {
        judgement.answer = trial.reached() == 2 ? Answer::yes : Answer::no;
        judgement.certainty = Certainty::searched;
    }
    return judgement;
}

} // namespace

Tools::Tools(Budget limits, const EndgameTables* tables)
    : budget(limits), account(limits.puzzle), endgames(tables, limits.table_men),
      prover(limits.mate / 2, account, endgames), long_prover(limits.mate / 2, account, endgames),
      memory(limits.puzzle / 4), search(memory, account, endgames) {}

std::optional<int> exact_score(const Endgames& endgames, const Position& position, Color solver) {
    if (!position.has_legal_move()) {
        if (!position.in_check()) {
            return 0;
        }
        return position.turn() == solver ? -mate_score : mate_score;
    }
    if (position.is_dead()) {
        return 0;
    }
    const auto exact = endgames.score(position);
    return exact && position.turn() != solver ? -*exact : exact;
}

struct Solver::State {
    State(Budget budget, const EndgameTables* endgames) : tools(budget, endgames) {}
    Tools tools;
};

Solver::Solver(Budget budget, const EndgameTables* tables)
    : m_state(std::make_unique<State>(budget, tables)) {}
Solver::~Solver() = default;
Solver::Solver(Solver&&) noexcept = default;
Solver& Solver::operator=(Solver&&) noexcept = default;

Nodes Solver::nodes_used() const {
    return m_state->tools.account.used();
}

Aim Aim::hold() {
    return {std::nullopt, held_score, held_score - lost_score};
}

Mates Solver::mates(const Position& position, int moves) {
    Tools& tools = m_state->tools;
    tools.endgames.serve(position);
    const Account::Share share(tools.account, tools.budget.mate);
    Mates mates;
    mates.complete = true;
    Position at = position;
    for (int length = 1; length <= moves && !mates.length; ++length) {
        for (const board::Move move : at.legal_moves()) {
            const auto undo = at.make(move);
            const bool mated = tools.prover.survives_not(at, length - 1, Scope::all);
            at.unmake(move, undo);
            if (mated) {
                mates.length = length;
                mates.keys.push_back(move);
            }
            mates.complete = mates.complete && !tools.prover.stopped();
        }
    }
    Scope scope = Scope::all;
    if (!mates.length && !mates.complete) {
        const Account::Share extra(tools.account, tools.budget.mate / 4);
        scope = Scope::checks;
        mates.length = tools.prover.shortest(at, moves, scope);
        if (const auto found = mates.length ? std::nullopt : tools.long_prover.find(at);
            found && found->shortest && found->moves <= moves) {
            mates.length = found->moves;
            mates.keys.push_back(found->line.front());
            mates.line = found->line;
            mates.nodes = share.spent();
            return mates;
        }
    }
    if (mates.length) {
        mates.line = tools.prover.longest_defence(at, *mates.length, scope);
        if (mates.keys.empty() && !mates.line.empty()) {
            mates.keys.push_back(mates.line.front());
        } else if (!mates.keys.empty()) {
            at.make(mates.keys.front());
            mates.line = tools.prover.longest_defence_after(at, *mates.length - 1, scope);
            mates.line.insert(mates.line.begin(), mates.keys.front());
        }
    }
    mates.nodes = share.spent();
    return mates;
}

Judgement Solver::reaches(const Position& position, Color solver, Aim aim) {
    m_state->tools.endgames.serve(position);
    return aim.mate_in ? mate_aim(m_state->tools, position, solver, *aim.mate_in)
                       : score_aim(m_state->tools, position, solver, aim);
}

Judgement Solver::value(const Position& position, Color solver) {
    Tools& tools = m_state->tools;
    tools.endgames.serve(position);
    Trial trial(position, solver, {}, tools.endgames);
    if (const auto exact = trial.exact()) {
        Judgement judgement = proved(true, *exact);
        judgement.line = tools.endgames.best_play(position, shown_plies);
        return judgement;
    }
    const Account::Share share(tools.account, tools.budget.value);
    while (trial.depth() < deepest_question && trial.deepen_exactly(tools.search)) {
        if (trial.depth() >= tools.budget.depth && trial.swing() <= settled_swing) {
            break;
        }
    }
    Judgement judgement;
    judgement.value = value_of(trial.score());
    judgement.line = trial.line();
    judgement.depth = trial.depth();
    if (trial.depth() >= tools.budget.depth && trial.swing() <= loose_swing) {
        judgement.answer = Answer::yes;
        judgement.certainty = Certainty::searched;
    }
    judgement.nodes = share.spent();
    return judgement;
}

KeyTable Solver::table(const Position& position, const Question& question) {
    m_state->tools.endgames.serve(position);
    return make_key_table(m_state->tools, position, question);
}

Problem Solver::problem(const Position& position, const ProblemQuestion& question) {
    m_state->tools.endgames.serve(position);
    return examine_problem(m_state->tools, position, question);
}

bool KeyTable::key_stands_out() const {
    return !moves.empty() && std::all_of(moves.begin() + 1, moves.end(),
                                         [](const MoveVerdict& rival) { return rival.below_key; });
}

const MoveVerdict* KeyTable::of(board::Move move) const {
    const auto at =
        std::find_if(moves.begin(), moves.end(), [&](const MoveVerdict& m) { return m.move == move; });
    return at == moves.end() ? nullptr : &*at;
}

const MoveVerdict* KeyTable::best() const {
    const auto at =
        std::max_element(moves.begin(), moves.end(), [](const MoveVerdict& a, const MoveVerdict& b) {
            return a.value.score < b.value.score;
        });
    return at == moves.end() ? nullptr : &*at;
}

} // namespace solve
