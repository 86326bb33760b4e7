#include "rules/rule.hpp"

#include "board/san.hpp"
#include "rules/company.hpp"
#include "rules/play.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace rules::key {

namespace {

using collection::GoalKind;
using solve::Answer;
using solve::MoveVerdict;
using solve::Standing;

constexpr std::size_t most_named = 3; // moves; of the others only their number is told

void add(const PuzzleView& view, Findings& findings, std::string_view subject, std::string what) {
    const solve::Effort effort = view.settings().effort;
    findings
        .add(view, view.key_span(), "open",
             {{"what", std::move(what)},
              {"effort", std::string(solve::name(effort))},
              {"nodes", std::to_string(solve::budget_of(effort).puzzle)}})
        .about(std::string(subject))
        .known(solve::Certainty::open)
        .mend(effort == solve::Effort::press ? "" : "check it with a higher effort");
}

/// A length alone, no move printed.
void tell_keyless(const PuzzleView& view, Findings& findings) {
    const bool asked = view.position() && view.puzzle().solution.empty() && view.goal_stated() &&
                       view.goal().kind == GoalKind::mate && !view.side_in_doubt();
    if (asked && !view.solver().mates(*view.position(), view.goal().moves).complete) {
        add(view, findings, "key", "the " + collection::write_goal(view.goal()));
    }
}

/// Where a mate is asked for a score says nothing.
std::string so_far(const PuzzleView& view, const MoveVerdict& key) {
    const bool tells = view.goal().kind != GoalKind::mate && key.value_is == solve::ValueIs::exact;
    return tells ? fmt::format(" ({} so far)", value_text(key)) : "";
}

Finding& add_told(const PuzzleView& view, Findings& findings, std::string_view message,
                  const MoveVerdict& key, std::string moves = "") {
    const std::string asked =
        value_text({view.goal_stated() ? view.aim(0).score : view.settings().win_at, {}});
    return findings
        .add(view, view.key_span(), message,
             {{"key", board::write_san(*view.position(), key.move)},
              {"value", value_text(key)},
              {"asked", asked},
              {"moves", std::move(moves)}})
        .about(std::string(message))
        .known(solve::Certainty::open)
        .shown(*view.position(), key.line);
}

/// The best move by far, and nothing is wrong with it but its size.
bool is_only_small(const PuzzleView& view, const MoveVerdict& key) {
    const bool asks_for_value =
        view.goal().kind == GoalKind::win || view.goal().kind == GoalKind::win_material;
    return asks_for_value && view.table().key_stands_out() && key.value_is == solve::ValueIs::exact &&
           !key.value.mate_in && key.value.score > 0 && key.value.score < view.aim(0).score;
}

void judge_first_moves(const PuzzleView& view, const MoveVerdict& key, Findings& findings) {
    if (key.reaches_goal == Answer::open && is_only_small(view, key)) {
        add_told(view, findings, "less", key);
        return;
    }
    if (key.reaches_goal == Answer::open) {
        add(view, findings, "key",
            "the key " + board::write_san(*view.position(), key.move) + so_far(view, key));
        return; // then nothing about rivals is settled either
    }
    // What wins clearly less than the key matters only to those who want no second win at all.
    const bool strict = view.goal_stated() && view.settings().uniqueness == Uniqueness::strict;
    std::vector<std::string> open;
    for (const MoveVerdict& rival : view.table().moves) {
        if (rival.standing == Standing::open || (strict && rival.standing == Standing::less)) {
            open.push_back(board::write_san(*view.position(), rival.move));
        }
    }
    if (key.reaches_goal == Answer::yes && !open.empty()) {
        add(view, findings, "rivals", "other first moves (" + listed(open, most_named) + ")");
    }
}

void judge_line(const PuzzleView& view, Findings& findings) {
    std::vector<std::string> open;
    for (const NodeVerdict& verdict : view.walk()) {
        if (verdict.judgement.answer == Answer::open && verdict.node != key_node(view) &&
            !verdict.inside_try) {
            open.push_back(open.size() < most_named ? numbered(view, verdict.node) : "");
        }
    }
    if (!open.empty()) {
        add(view, findings, "line", "moves further on (" + listed(open, most_named) + ")");
    }
}

/// Moves that were seen to be level with a key of which nothing was claimed, or above it, are
/// key/second-win's.
void judge_unclaimed(const PuzzleView& view, const MoveVerdict& key, Findings& findings) {
    const Company& company = view.company();
    if (company.better || company.shown) {
        return;
    }
    std::vector<std::string> close;
    for (const std::vector<board::Move>& moves : {company.above, company.level, company.loose}) {
        for (const board::Move move : moves) {
            close.push_back(board::write_san(*view.position(), move));
        }
    }
    if (!close.empty()) {
        add_told(view, findings, "close", key, listed(close, most_named, "or")).mend("state the goal");
    }
}

} // namespace

void open(const PuzzleView& view, Findings& findings) {
    const MoveVerdict* const key = view.can_judge_play() ? view.table().of(*view.key()) : nullptr;
    if (key == nullptr) {
        return tell_keyless(view, findings);
    }
    const bool nothing_claimed = view.goal().kind == GoalKind::best && !view.goal_stated();
    const bool hollow = !scores_tell(view) && !key->value.mate_in &&
                        key->certainty != solve::Certainty::proved && view.goal().kind != GoalKind::mate;
    if (hollow && view.table().moves.size() > 1) {
        add_told(view, findings, "ending", *key);
    } else if (!nothing_claimed) {
        judge_first_moves(view, *key, findings);
        if (key->reaches_goal == Answer::yes) {
            judge_line(view, findings);
        }
    } else if (!view.table().key_stands_out() && !overlooked(view)) { // else key/refuted says more
        judge_unclaimed(view, *key, findings);
    }
}

} // namespace rules::key
