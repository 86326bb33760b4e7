#include "problem_check.hpp"

#include "brute.hpp"
#include "positions.hpp"

#include <tuple>

using board::Move;
using board::Position;
using solve::Answer;
using solve::Continuations;
using solve::Problem;
using solve::Ways;

namespace solve_test {
namespace {

/// Lists in any order, sorted by their raw bits.
using Raw = std::vector<std::uint16_t>;

Raw raw(const std::vector<Move>& moves) {
    Raw list;
    for (const Move m : moves) {
        list.push_back(m.raw());
    }
    std::sort(list.begin(), list.end());
    return list;
}

Continuations quickest(const Position& at, int most) {
    for (int length = 1; length <= most; ++length) {
        if (auto moves = mating_moves(at, length); !moves.empty()) {
            return {length, std::move(moves)};
        }
    }
    return {};
}

void check_same(const Continuations& found, const Continuations& right) {
    CHECK(found.length == right.length);
    CHECK(raw(found.moves) == raw(right.moves));
    CHECK(std::is_sorted(found.moves.begin(), found.moves.end(), solve::by_board));
}

bool contains(const std::vector<Move>& moves, Move m) {
    return std::find(moves.begin(), moves.end(), m) != moves.end();
}

Ways right_ways(const Position& answered, const Continuations& answer, const Continuations& threats,
                int left) {
    if (answer.length < left) {
        return Ways::sooner;
    }
    if (answer.moves.size() == 1) {
        return Ways::one;
    }
    const auto in_time = mating_moves(answered, left);
    const auto standing = std::count_if(threats.moves.begin(), threats.moves.end(),
                                        [&](Move threat) { return contains(in_time, threat); });
    if (standing > 0 && static_cast<std::size_t>(standing) == threats.moves.size()) {
        return standing > 1 ? Ways::multiple_threat : Ways::threat_and_other;
    }
    const Move one = answer.moves[0];
    const Move other = answer.moves[1];
    using board::Role;
    const auto pair = [&](Role a, Role b) {
        return (one.promotes_to() == a && other.promotes_to() == b) ||
               (one.promotes_to() == b && other.promotes_to() == a);
    };
    const bool same_pawn = answer.moves.size() == 2 && one.is_promotion() && other.is_promotion() &&
                           one.from() == other.from() && one.to() == other.to();
    return same_pawn && (pair(Role::queen, Role::rook) || pair(Role::queen, Role::bishop))
               ? Ways::promotion_dual
               : Ways::dual;
}

void check_key(const Position& at, const Problem& problem, PlayTally& tally) {
    const int left = problem.moves - 1;
    const Position after = at.after(problem.key);
    const bool solves = contains(mating_moves(at, problem.moves), problem.key);
    CHECK(problem.key_solves == (solves ? Answer::yes : Answer::no));
    CHECK(problem.key_checks == after.in_check());
    CHECK(problem.key_captures == at.is_capture(problem.key));
    CHECK(problem.variations.has_value() == solves);
    CHECK(problem.threats.has_value() == (solves && !after.in_check()));
    if (!solves) {
        return;
    }
    const Continuations threats = after.in_check() ? Continuations() : quickest(*after.passed(), left);
    if (problem.threats) {
        check_same(*problem.threats, threats);
        ++(problem.is_block() ? tally.blocks : tally.threats);
    }
    std::vector<Move> replies;
    for (const solve::Variation& variation : *problem.variations) {
        INFO(board::write_san(after, variation.reply));
        const Position answered = after.after(variation.reply);
        check_same(variation.answer, quickest(answered, left));
        CHECK(variation.ways == right_ways(answered, variation.answer, threats, left));
        replies.push_back(variation.reply);
        ++tally.ways[variation.ways];
    }
    CHECK(sans(after, replies) == sans(after, after.legal_moves()));
    CHECK(std::is_sorted(replies.begin(), replies.end(), solve::by_board));
}

/// The move as the man would make it that the key has moved.
std::tuple<board::Square, board::Square, int> after_key(Move m, Move key) {
    const bool is_key_man = m.from() == key.from() && !key.is_promotion();
    return {is_key_man ? key.to() : m.from(), m.to(),
            m.is_promotion() ? static_cast<int>(m.promotes_to()) : -1};
}

bool right_changed(const Position& at, const Problem& problem, const solve::SetMate& mate) {
    const Position after = at.after(problem.key);
    if (problem.key_solves != Answer::yes || !after.is_legal(mate.reply)) {
        return false;
    }
    const auto later = quickest(after.after(mate.reply), problem.moves - 1).moves;
    for (const Move before : mate.answer.moves) {
        for (const Move m : later) {
            if (after_key(before, problem.key) == after_key(m, Move())) {
                return false;
            }
        }
    }
    return true;
}

void check_set_play(const Position& at, const Problem& problem, PlayTally& tally) {
    const auto passed = at.passed();
    REQUIRE(problem.set_play.has_value() == passed.has_value());
    if (!passed) {
        return;
    }
    std::vector<Move> replies = problem.set_play->unprovided;
    for (const Move reply : problem.set_play->unprovided) {
        CHECK(quickest(passed->after(reply), problem.moves - 1).moves.empty());
    }
    bool any = false;
    for (const solve::SetMate& mate : problem.set_play->mates) {
        INFO(board::write_san(*passed, mate.reply));
        check_same(mate.answer, quickest(passed->after(mate.reply), problem.moves - 1));
        CHECK_FALSE(mate.answer.moves.empty());
        CHECK(mate.changed == right_changed(at, problem, mate));
        any = any || mate.changed;
        tally.changed += mate.changed ? 1 : 0;
        replies.push_back(mate.reply);
    }
    CHECK(sans(*passed, replies) == sans(*passed, passed->legal_moves()));
    const bool complete = problem.set_play->unprovided.empty() && passed->has_legal_move();
    CHECK(problem.set_play->complete_block() == complete);
    CHECK(problem.is_mutate() == (complete && problem.is_block() && any));
    tally.complete_blocks += complete ? 1 : 0;
    tally.mutates += problem.is_mutate() ? 1 : 0;
}

void check_tries(const Position& at, const Problem& problem, PlayTally& tally) {
    const int left = problem.moves - 1;
    const auto keys = mating_moves(at, problem.moves);
    std::map<std::uint16_t, Raw> right[2]; // refutations by move; one, and two
    for (const Move m : at.legal_moves()) {
        const Position after = at.after(m);
        std::vector<Move> refutations;
        for (const Move reply : after.legal_moves()) {
            if (quickest(after.after(reply), left).moves.empty()) {
                refutations.push_back(reply);
            }
        }
        if (contains(keys, m) || refutations.empty() || refutations.size() > 2) {
            continue;
        }
        const auto passed = after.passed();
        const bool shows_mate = refutations.size() < after.legal_moves().size() ||
                                (passed && !quickest(*passed, left).moves.empty());
        if (shows_mate) {
            right[refutations.size() - 1][m.raw()] = raw(refutations);
        } else {
            ++tally.blunders;
        }
    }
    for (const auto& [list, of] : {std::pair(&problem.tries, &right[0]), {&problem.weak_tries, &right[1]}}) {
        std::map<std::uint16_t, Raw> found;
        std::vector<Move> order;
        for (const solve::Try& tried : *list) {
            found[tried.move.raw()] = raw(tried.refutations);
            order.push_back(tried.move);
            CHECK(std::is_sorted(tried.refutations.begin(), tried.refutations.end(), solve::by_board));
        }
        CHECK(found == *of);
        CHECK(order.size() == of->size());
        CHECK(std::is_sorted(order.begin(), order.end(), solve::by_board));
    }
    tally.tries += static_cast<int>(right[0].size());
    tally.weak_tries += static_cast<int>(right[1].size());
}

void check_flights(const Position& at, const Problem& problem) {
    const auto squares = [](const Position& position) {
        std::vector<board::Square> found;
        for (const Move m : position.legal_moves()) {
            const auto man = position.at(m.from());
            if (man && man->role == board::Role::king && board::distance(m.from(), m.to()) == 1) {
                found.push_back(m.to());
            }
        }
        std::sort(found.begin(), found.end());
        return found;
    };
    std::vector<board::Square> taken;
    std::vector<board::Square> given;
    if (const auto passed = at.passed()) {
        const auto before = squares(*passed);
        const auto after = squares(at.after(problem.key));
        std::set_difference(before.begin(), before.end(), after.begin(), after.end(),
                            std::back_inserter(taken));
        std::set_difference(after.begin(), after.end(), before.begin(), before.end(),
                            std::back_inserter(given));
    }
    CHECK(problem.flights_taken == taken);
    CHECK(problem.flights_given == given);
}

} // namespace

void check_by_trying(const Position& at, Move key, int moves, PlayTally& tally) {
    INFO(fen(at) << " " << board::write_san(at, key) << " in " << moves);
    const Problem problem = solve::Solver(ample).problem(at, {key, moves});
    CHECK(problem.complete);
    CHECK(problem.tries_complete);
    CHECK(problem.nodes > 0);
    check_key(at, problem, tally);
    check_flights(at, problem);
    check_set_play(at, problem, tally);
    check_tries(at, problem, tally);
}

} // namespace solve_test
