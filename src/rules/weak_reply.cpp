#include "rules/weak_reply.hpp"

#include "rules/play.hpp"

#include <algorithm>

namespace rules {

namespace {

using collection::GoalKind;
using solve::Answer;

/// The main line at one reply.
struct Reply {
    std::size_t node; ///< the solver's move before it
    std::size_t printed;
    int left;                 ///< mates: solver's moves that the goal leaves
    board::Position position; ///< the defender is to move
    [[nodiscard]] board::Position after(const PuzzleView& view) const {
        return position.after(view.puzzle().solution.nodes[printed].move);
    }
};

bool works(const PuzzleView& view, std::size_t node) {
    const NodeVerdict* const verdict = verdict_of(view, node);
    return verdict != nullptr && verdict->judgement.answer == Answer::yes;
}

/// Words for several replies ("any") may stand for the better one.
bool only_moves_printed(const PuzzleView& view, std::size_t node) {
    const auto& nodes = view.puzzle().solution.nodes;
    return std::all_of(nodes[node].children.begin(), nodes[node].children.end(), [&](std::size_t child) {
        return nodes[child].status == collection::MoveStatus::legal;
    });
}

/// Replies of the main line that were a choice, up to the first move that does not work.
std::vector<Reply> replies_of(const PuzzleView& view) {
    std::vector<Reply> result;
    const std::vector<std::size_t> line = view.puzzle().solution.main_line();
    board::Position position = *view.position();
    for (std::size_t ply = 0; ply + 1 < line.size(); ++ply) {
        position.make(view.puzzle().solution.nodes[line[ply]].move);
        if (ply % 2 != 0) {
            continue;
        }
        if (!works(view, line[ply])) {
            break;
        }
        if (position.legal_moves().size() > 1 && only_moves_printed(view, line[ply])) {
            const int played = static_cast<int>(ply / 2) + 1;
            result.push_back({line[ply], line[ply + 1], view.goal().moves - played, position});
        }
    }
    return result;
}

/// A printed sideline against which the aim is missed: the author knows a better reply.
bool better_one_printed(const PuzzleView& view, const Reply& reply, const solve::Aim& aim) {
    const auto& nodes = view.puzzle().solution.nodes;
    const auto& printed = nodes[reply.node].children;
    return std::any_of(printed.begin(), printed.end(), [&](std::size_t child) {
        const board::Position after = reply.position.after(nodes[child].move);
        return child != reply.printed &&
               view.solver().reaches(after, view.solver_side(), aim).answer == Answer::no;
    });
}

/// A reply after which `moves` moves do not mate.
std::optional<board::Move> longer(const PuzzleView& view, const Reply& reply, int moves) {
    const solve::Aim aim = solve::Aim::mate(moves);
    const board::Color side = view.solver_side();
    if (view.solver().reaches(reply.position, side, aim).answer != Answer::no) {
        return std::nullopt;
    }
    for (const board::Move move : reply.position.legal_moves()) {
        if (view.solver().reaches(reply.position.after(move), side, aim).answer == Answer::no) {
            return move;
        }
    }
    return std::nullopt;
}

std::optional<WeakReply> sooner_mated(const PuzzleView& view, const Reply& reply) {
    solve::Solver& solver = view.solver();
    const solve::Mates length = solver.mates(reply.after(view), reply.left);
    if (!length.length || *length.length >= reply.left) {
        return std::nullopt;
    }
    const int moves = *length.length;
    const auto better = longer(view, reply, moves);
    if (!better || better_one_printed(view, reply, solve::Aim::mate(moves))) {
        return std::nullopt;
    }
    const auto play =
        solver.reaches(reply.position.after(*better), view.solver_side(), solve::Aim::mate(reply.left));
    if (play.answer != Answer::yes || !play.value.mate_in || *play.value.mate_in <= moves) {
        return std::nullopt;
    }
    WeakReply weak{reply.node, reply.printed, WeakReply::Kind::shorter, {0, moves}, play.value,
                   {*better},  play.certainty};
    weak.better.insert(weak.better.end(), play.line.begin(), play.line.end());
    return weak;
}

constexpr int mating = 10'000;       ///< hundredths: above every settled score
constexpr int good_as_mated = 1'500; ///< who loses a queen and a rook for nothing holds out no better

int size_of(const solve::Value& value) {
    const bool mates = value.mate_in && (*value.mate_in > 0 || (*value.mate_in == 0 && value.score > 0));
    return !value.mate_in ? value.score : mates ? mating : -mating;
}

/// Won, something won, about level, lost. Mates count as won: how a won game ends is the author's choice.
int class_of(const PuzzleView& view, const solve::Value& value) {
    const int level = view.settings().near;
    const int size = size_of(value);
    return size >= view.settings().win_at ? 3 : size >= level ? 2 : size > -level ? 1 : 0;
}

/// Three checks of the solver's in a row: a hunted king may cost more than the search has seen.
bool is_chase(const board::Position& start, board::Color solver, const solve::Line& line) {
    board::Position position = start;
    int checks = 0;
    for (const board::Move move : line) {
        if (position.turn() == solver) {
            checks = position.gives_check(move) ? checks + 1 : 0;
        }
        position.make(move);
        if (checks == 3) {
            return true;
        }
    }
    return false;
}

std::optional<WeakReply> cheaper(const PuzzleView& view, const Reply& reply) {
    solve::Solver& solver = view.solver();
    const int near = view.settings().near;
    const solve::Judgement main = solver.value(reply.after(view), view.solver_side());
    // Without a goal that asks for more, a line may go on to the mate that was the threat.
    if (main.answer != Answer::yes || (!view.goal_stated() && main.value.mate_in)) {
        return std::nullopt;
    }
    const int least = std::min(size_of(main.value) - near, good_as_mated);
    const auto held = solver.reaches(reply.position, view.solver_side(), solve::Aim::value(least));
    if (held.answer != Answer::no || held.line.empty() ||
        better_one_printed(view, reply, solve::Aim::value(least))) {
        return std::nullopt;
    }
    const board::Move better = held.line.front();
    const board::Position after = reply.position.after(better);
    const solve::Judgement best = solver.value(after, view.solver_side());
    if (best.answer != Answer::yes || size_of(best.value) > least ||
        is_hollow(view, best.value, best.certainty) || is_chase(after, view.solver_side(), best.line)) {
        return std::nullopt;
    }
    const bool by_class = class_of(view, main.value) > class_of(view, best.value);
    WeakReply weak{reply.node,
                   reply.printed,
                   by_class ? WeakReply::Kind::by_class : WeakReply::Kind::by_value,
                   main.value,
                   best.value,
                   {better},
                   solve::weaker(main.certainty, best.certainty)};
    weak.better.insert(weak.better.end(), best.line.begin(), best.line.end());
    return weak;
}

/// The line ends no better for the solver than the key promises: then every reply was good enough, and one
/// question has told it.
bool ends_as_promised(const PuzzleView& view, const solve::MoveVerdict& key) {
    const auto line = view.puzzle().solution.main_line();
    const solve::Judgement end = view.solver().value(position_after(view, line.back()), view.solver_side());
    return end.answer != Answer::yes || size_of(end.value) - size_of(key.value) < view.settings().near;
}

} // namespace

std::optional<WeakReply> find_weak_reply(const PuzzleView& view) {
    const solve::MoveVerdict* const key = view.can_judge_play() ? view.table().of(*view.key()) : nullptr;
    const GoalKind goal = view.goal().kind;
    if (key == nullptr || key->reaches_goal != Answer::yes || goal == GoalKind::best) {
        return std::nullopt;
    }
    if (goal == GoalKind::mate && key->value.mate_in != view.goal().moves) {
        return std::nullopt; // shorter than stated: told by key/short-mate
    }
    const std::vector<Reply> replies = replies_of(view);
    if (replies.empty() || (goal != GoalKind::mate && ends_as_promised(view, *key))) {
        return std::nullopt;
    }
    for (const Reply& reply : replies) {
        if (auto weak = goal == GoalKind::mate ? sooner_mated(view, reply) : cheaper(view, reply)) {
            return weak;
        }
    }
    return std::nullopt;
}

} // namespace rules
