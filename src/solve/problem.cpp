#include "solve/problem.hpp"

#include "solve/tools.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <tuple>

namespace solve {
namespace {

using board::Move;
using board::Position;
using board::Role;
using Scope = MateProver::Scope;

constexpr std::size_t weak = 2; // refutations of a weak try; what fails to more is no try

std::vector<Move> moves_of(const Position& position) {
    const board::MoveList list = position.legal_moves();
    std::vector<Move> moves(list.begin(), list.end());
    std::sort(moves.begin(), moves.end(), by_board);
    return moves;
}

/// A pawn that mates as a queen and as the weaker man whose power the queen has.
bool is_promotion_dual(const std::vector<Move>& moves) {
    const auto alike = [&](Move m) {
        return m.is_promotion() && m.from() == moves[0].from() && m.to() == moves[0].to();
    };
    const auto becomes = [&](Role role) {
        return std::any_of(moves.begin(), moves.end(), [&](Move m) { return m.promotes_to() == role; });
    };
    return moves.size() == 2 && alike(moves[0]) && alike(moves[1]) && becomes(Role::queen) &&
           !becomes(Role::knight);
}

std::vector<board::Square> flights(const Position& position) {
    std::vector<board::Square> squares;
    for (const Move move : moves_of(position)) {
        if (move.from() == position.king(position.turn()) && move.kind() != board::MoveKind::castling) {
            squares.push_back(move.to());
        }
    }
    return squares;
}

/// Does the same man make both moves, one in the diagram and one after the key?
bool same_move(Move before, Move later, Move key) {
    const auto power = [](Move m) {
        return m.is_promotion() ? std::optional(m.promotes_to()) : std::nullopt;
    };
    return later.from() == (before.from() == key.from() ? key.to() : before.from()) &&
           later.to() == before.to() && power(later) == power(before);
}

class Examination {
  public:
    Examination(Tools& tools, const Position& root, const ProblemQuestion& question)
        : m_tools(tools), m_prover(tools.prover), m_root(root), m_left(question.moves - 1) {
        m_problem.key = question.key;
        m_problem.moves = question.moves;
    }
    [[nodiscard]] Problem make();

  private:
    void describe_key();
    // False when the budget ended.
    [[nodiscard]] bool examine_key();
    [[nodiscard]] bool examine_variations(const Position& after);
    [[nodiscard]] bool examine_set_play();
    [[nodiscard]] bool find_tries();
    [[nodiscard]] bool examine_try(Move move);
    [[nodiscard]] bool find_refutations(const Position& after, Try& tried, bool& shows_mate);

    // Nothing when the budget ended.
    [[nodiscard]] std::optional<Continuations> continuations(const Position& position);
    [[nodiscard]] std::optional<std::size_t> threats_standing(const Position& answered);

    [[nodiscard]] Ways ways(const Variation& variation) const;
    [[nodiscard]] bool has_changed(const SetMate& mate) const;
    [[nodiscard]] std::vector<Move> replies_to(const Position& after) const;

    Tools& m_tools;
    MateProver& m_prover;
    const Position& m_root;
    int m_left; ///< moves of the solver after the first
    Problem m_problem;
    std::map<std::uint16_t, int> m_refuted; ///< how many first moves a reply has refuted so far
};

Problem Examination::make() {
    const Account::Share all(m_tools.account, m_tools.account.left());
    describe_key();
    const bool key = examine_key();
    const bool set_play = examine_set_play();
    m_problem.tries_complete = find_tries();
    m_problem.complete = key && set_play && m_problem.tries_complete;
    m_problem.nodes = all.spent();
    return m_problem;
}

void Examination::describe_key() {
    const Position after = m_root.after(m_problem.key);
    m_problem.key_checks = after.in_check();
    m_problem.key_captures = m_root.is_capture(m_problem.key);
    if (const auto passed = m_root.passed()) {
        const auto before = flights(*passed);
        const auto later = flights(after);
        std::set_difference(before.begin(), before.end(), later.begin(), later.end(),
                            std::back_inserter(m_problem.flights_taken));
        std::set_difference(later.begin(), later.end(), before.begin(), before.end(),
                            std::back_inserter(m_problem.flights_given));
    }
}

std::optional<Continuations> Examination::continuations(const Position& position) {
    Position at = position;
    const auto length = m_prover.shortest(at, m_left, Scope::all);
    if (!length) {
        return m_prover.stopped() ? std::nullopt : std::optional(Continuations());
    }
    Continuations found{*length, {}};
    for (const Move move : moves_of(position)) {
        if (*length == 1 && !position.gives_check(move)) {
            continue;
        }
        Position after = position.after(move);
        if (m_prover.survives_not(after, *length - 1, Scope::all)) {
            found.moves.push_back(move);
        } else if (m_prover.stopped()) {
            return std::nullopt;
        }
    }
    return found;
}

bool Examination::examine_key() {
    const Account::Share share(m_tools.account, m_tools.budget.mate);
    Position after = m_root.after(m_problem.key);
    const bool solves = m_prover.survives_not(after, m_left, Scope::all);
    if (m_prover.stopped()) {
        return false;
    }
    m_problem.key_solves = solves ? Answer::yes : Answer::no;
    if (!solves) {
        return true;
    }
    if (const auto again = after.passed()) {
        m_problem.threats = continuations(*again);
        if (!m_problem.threats) {
            return false;
        }
    }
    return examine_variations(after);
}

bool Examination::examine_variations(const Position& after) {
    std::vector<Variation> variations;
    for (const Move reply : moves_of(after)) {
        const Position answered = after.after(reply);
        const auto answer = continuations(answered);
        const auto standing = answer ? threats_standing(answered) : std::nullopt;
        if (!standing) {
            return false;
        }
        Variation variation{reply, *answer, *standing};
        variation.ways = ways(variation);
        variations.push_back(std::move(variation));
    }
    m_problem.variations = std::move(variations);
    return true;
}

std::optional<std::size_t> Examination::threats_standing(const Position& answered) {
    std::size_t standing = 0;
    for (const Move threat : m_problem.threats.value_or(Continuations()).moves) {
        if (!answered.is_legal(threat)) {
            continue;
        }
        Position after = answered.after(threat);
        standing += m_prover.survives_not(after, m_left - 1, Scope::all) ? 1 : 0;
        if (m_prover.stopped()) {
            return std::nullopt;
        }
    }
    return standing;
}

Ways Examination::ways(const Variation& variation) const {
    const std::size_t threats = m_problem.threats ? m_problem.threats->moves.size() : 0;
    if (variation.answer.length < m_left) {
        return Ways::sooner;
    }
    if (variation.answer.moves.size() == 1) {
        return Ways::one;
    }
    if (threats > 0 && variation.threats_standing == threats) {
        return threats > 1 ? Ways::multiple_threat : Ways::threat_and_other;
    }
    return is_promotion_dual(variation.answer.moves) ? Ways::promotion_dual : Ways::dual;
}

bool Examination::examine_set_play() {
    const auto passed = m_root.passed();
    if (!passed) {
        return true;
    }
    const Account::Share share(m_tools.account, m_tools.budget.mate);
    SetPlay play;
    for (const Move reply : moves_of(*passed)) {
        const auto answer = continuations(passed->after(reply));
        if (!answer) {
            return false;
        }
        if (answer->length == 0) {
            play.unprovided.push_back(reply);
        } else {
            play.mates.push_back({reply, *answer});
            play.mates.back().changed = has_changed(play.mates.back());
        }
    }
    m_problem.set_play = std::move(play);
    return true;
}

bool Examination::has_changed(const SetMate& mate) const {
    if (!m_problem.variations) {
        return false;
    }
    const auto after = std::find_if(m_problem.variations->begin(), m_problem.variations->end(),
                                    [&](const Variation& v) { return v.reply == mate.reply; });
    return after != m_problem.variations->end() &&
           std::none_of(mate.answer.moves.begin(), mate.answer.moves.end(), [&](Move before) {
               const auto& later = after->answer.moves;
               return std::any_of(later.begin(), later.end(),
                                  [&](Move m) { return same_move(before, m, m_problem.key); });
           });
}

bool Examination::find_tries() {
    const Account::Share share(m_tools.account, m_tools.budget.mate);
    for (const Move move : moves_of(m_root)) {
        if (!examine_try(move)) {
            return false;
        }
    }
    return true;
}

bool Examination::examine_try(Move move) {
    Position after = m_root.after(move);
    const bool solves = m_prover.survives_not(after, m_left, Scope::all);
    if (solves || m_prover.stopped()) {
        return solves;
    }
    Try tried{move, {}};
    bool shows_mate = false;
    if (!find_refutations(after, tried, shows_mate)) {
        return false;
    }
    if (tried.refutations.empty() || tried.refutations.size() > weak) {
        return true; // stalemate, or no try
    }
    if (auto again = shows_mate ? std::nullopt : after.passed()) {
        shows_mate = m_prover.shortest(*again, m_left, Scope::all).has_value();
        if (m_prover.stopped()) {
            return false;
        }
    }
    if (shows_mate) {
        auto& list = tried.refutations.size() == 1 ? m_problem.tries : m_problem.weak_tries;
        list.push_back(std::move(tried));
    }
    return true;
}

/// All refutations, or one more than a weak try may have.
bool Examination::find_refutations(const Position& after, Try& tried, bool& shows_mate) {
    for (const Move reply : replies_to(after)) {
        Position answered = after.after(reply);
        const bool mated = m_prover.shortest(answered, m_left, Scope::all).has_value();
        if (m_prover.stopped()) {
            return false;
        }
        shows_mate = shows_mate || mated;
        if (!mated) {
            ++m_refuted[reply.raw()];
            tried.refutations.push_back(reply);
        }
        if (tried.refutations.size() > weak) {
            break;
        }
    }
    std::sort(tried.refutations.begin(), tried.refutations.end(), by_board);
    return true;
}

/// What refuted most other moves first: a move that is no try is soonest known for one.
std::vector<Move> Examination::replies_to(const Position& after) const {
    std::vector<Move> replies = moves_of(after);
    const auto refuted = [&](Move m) {
        const auto found = m_refuted.find(m.raw());
        return found == m_refuted.end() ? 0 : found->second;
    };
    std::stable_sort(replies.begin(), replies.end(), [&](Move a, Move b) { return refuted(a) > refuted(b); });
    return replies;
}

} // namespace

bool by_board(Move a, Move b) {
    const auto place = [](Move m) { return std::tuple(m.from(), m.to(), m.raw()); };
    return place(a) < place(b);
}

bool Problem::is_mutate() const {
    return set_play && set_play->complete_block() && is_block() &&
           std::any_of(set_play->mates.begin(), set_play->mates.end(),
                       [](const SetMate& mate) { return mate.changed; });
}

Problem examine_problem(Tools& tools, const Position& position, const ProblemQuestion& question) {
    if (question.moves < 2) {
        Problem none;
        none.key = question.key;
        none.moves = question.moves;
        return none;
    }
    return Examination(tools, position, question).make();
}

} // namespace solve
