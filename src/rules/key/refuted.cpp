#include "rules/rule.hpp"

#include "board/san.hpp"
#include "rules/play.hpp"

#include <algorithm>

namespace rules::key {

namespace {

using collection::GoalKind;
using solve::Answer;
using solve::MoveVerdict;
using solve::Standing;

struct Case {
    const PuzzleView& view;
    Findings& findings;
    const MoveVerdict& key;
    std::string san;

    Finding& add(std::string_view message, Arguments arguments) {
        return findings.add(view, view.key_span(), message, arguments).about(san).known(key.certainty);
    }
};

/// "1...Kf8", the answer the refuting line begins with.
std::string answer_in(const PuzzleView& view, const solve::Line& line) {
    return line.size() < 2 ? "the stalemate" : numbered(view.position()->after(line[0]), line[1]);
}

/// Another first move that does what the key should.
std::string instead(const PuzzleView& view) {
    for (const MoveVerdict& rival : view.table().moves) {
        const bool works = rival.reaches_goal == Answer::yes && rival.standing != Standing::key;
        if (works && (rival.standing == Standing::as_good || rival.standing == Standing::better)) {
            return board::write_san(*view.position(), rival.move) + " would do: was it meant?";
        }
    }
    return "correct the key, the goal or the diagram";
}

/// Length of the mate the key gives after all, looked for a few moves past the stated one.
std::optional<solve::Judgement> later_mate(const PuzzleView& view, const MoveVerdict& key, int stated,
                                           int& length) {
    constexpr int further = 2;
    for (length = stated + 1; length <= stated + further; ++length) {
        const auto after = view.position()->after(key.move);
        auto judged = view.solver().reaches(after, view.solver_side(), solve::Aim::mate(length - 1));
        if (judged.answer != Answer::no) {
            return judged.answer == Answer::yes ? std::optional(judged) : std::nullopt;
        }
    }
    return std::nullopt;
}

void judge_mate(Case& it) {
    const int stated = it.view.goal().moves;
    int length = 0;
    if (const auto later = later_mate(it.view, it.key, stated, length)) {
        solve::Line line{it.key.move};
        line.insert(line.end(), later->line.begin(), later->line.end());
        it.add("later",
               {{"key", it.san}, {"length", std::to_string(length)}, {"stated", std::to_string(stated)}})
            .shown(*it.view.position(), line)
            .mend(instead(it.view));
        return;
    }
    it.add("no_mate",
           {{"key", it.san}, {"stated", std::to_string(stated)}, {"answer", answer_in(it.view, it.key.line)}})
        .shown(*it.view.position(), it.key.line)
        .mend(instead(it.view));
}

void judge_value(Case& it) {
    const int before = it.view.goal().kind == GoalKind::win_material
                           ? 100 * solve::balance(*it.view.position(), it.view.solver_side())
                           : 0;
    const bool something = !it.key.value.mate_in && it.key.value.score > before;
    const bool asks_for_value =
        it.view.goal().kind == GoalKind::win || it.view.goal().kind == GoalKind::win_material;
    it.add(something && asks_for_value ? "short" : "refuted",
           {{"key", it.san},
            {"answer", answer_in(it.view, it.key.line)},
            {"value", value_text(it.key)},
            {"asked", value_text({it.view.aim(0).score, std::nullopt})},
            {"goal", collection::write_goal(it.view.goal())}})
        .shown(*it.view.position(), it.key.line)
        .mend(instead(it.view));
}

void add_better(Case& it, std::string_view message, const solve::Line& line, std::string value,
                solve::Certainty certainty) {
    const std::string move = board::write_san(*it.view.position(), line.front());
    it.findings
        .add(
            it.view, it.view.key_span(), message,
            {{"key", it.san}, {"move", move}, {"value", std::move(value)}, {"key_value", value_text(it.key)}})
        .about(move)
        .known(certainty)
        .shown(*it.view.position(), line)
        .mend("print " + move + " as the key, or change the diagram");
}

/// "Best move": a rival that is clearly better. Without a stated goal only one that decides what the key
/// leaves open.
void judge_best(Case& it) {
    if (!it.view.goal_stated()) {
        if (const auto best = overlooked(it.view)) {
            add_better(it, "overlooked", best->line, value_text(best->value), best->certainty);
        }
        return;
    }
    for (const MoveVerdict& rival : it.view.table().moves) {
        if (rival.standing == Standing::better && !is_accepted(it.view, rival.move)) {
            add_better(it, "better", rival.line, value_text(rival), rival.certainty);
            return; // the best of them is enough
        }
    }
}

} // namespace

void refuted(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play()) {
        return;
    }
    const MoveVerdict* const key = view.table().of(*view.key());
    if (key == nullptr) {
        return;
    }
    Case it{view, findings, *key, board::write_san(*view.position(), key->move)};
    const GoalKind goal = view.goal().kind;
    if (goal == GoalKind::best) {
        judge_best(it);
    } else if (key->reaches_goal != Answer::no || !view.goal_stated()) {
        return; // an inferred goal is one the key reaches
    } else if (goal == GoalKind::mate) {
        judge_mate(it);
    } else if (!is_hollow(view, key->value, key->certainty) &&
               !ends_in_chase(*view.position(), view.solver_side(), key->line)) {
        judge_value(it);
    }
}

} // namespace rules::key
