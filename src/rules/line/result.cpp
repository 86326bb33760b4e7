#include "rules/rule.hpp"

#include "board/san.hpp"
#include "rules/play.hpp"

#include <algorithm>
#include <array>

namespace rules::line {

namespace {

using board::Color;
using collection::GoalKind;

enum class Outcome : std::uint8_t { white_wins, black_wins, drawn };

struct ResultClaim {
    std::string text;
    collection::Span span;
    std::optional<Outcome> outcome; ///< "*" and words of the author's own claim nothing
};

Outcome won_by(Color side) {
    return side == Color::white ? Outcome::white_wins : Outcome::black_wins;
}

ResultClaim claim_of(const std::string& text, collection::Span span) {
    ResultClaim claim{text, span, std::nullopt};
    if (text == "1-0") {
        claim.outcome = Outcome::white_wins;
    } else if (text == "0-1") {
        claim.outcome = Outcome::black_wins;
    } else if (text == "1/2-1/2") {
        claim.outcome = Outcome::drawn;
    }
    return claim;
}

/// Game file or puzzle file: with players named, the result is that of the game.
bool players_named(const PuzzleView& view) {
    constexpr std::array<std::string_view, 5> nobody{"", "?", "-", "White", "Black"};
    const auto named = [&](std::string_view name) {
        const collection::Field* const field = view.puzzle().field(name);
        return field != nullptr && std::find(nobody.begin(), nobody.end(), field->value) == nobody.end();
    };
    return named("White") || named("Black");
}

/// Where the main line can be played to its end, and ends the game there.
std::optional<board::Position> ended(const PuzzleView& view) {
    const std::vector<std::size_t> line = view.puzzle().solution.main_line();
    if (line.empty() || !view.puzzle().solution.nodes[line.back()].children.empty()) {
        return std::nullopt;
    }
    board::Position last = position_after(view, line.back());
    return last.has_legal_move() ? std::nullopt : std::optional(last);
}

Outcome outcome_of(const board::Position& last) {
    return last.in_check() ? won_by(!last.turn()) : Outcome::drawn;
}

void judge_end(const PuzzleView& view, const ResultClaim& claim, const board::Position& last,
               Findings& findings) {
    if (claim.outcome == outcome_of(last)) {
        return;
    }
    const bool mate = last.in_check();
    findings
        .add(view, claim.span, mate ? "mate" : "stalemate",
             {{"result", claim.text}, {"side", std::string(side_name(!last.turn()))}})
        .about(claim.text)
        .known(solve::Certainty::proved)
        .shown(*view.position(), view.puzzle().solution.moves_to(view.puzzle().solution.main_line().back()))
        .mend("correct the result");
}

/// Does the result say something that the goal excludes? A gain of material excludes only the loss.
bool excluded(GoalKind goal, bool wins, bool draws) {
    switch (goal) {
    case GoalKind::mate:
    case GoalKind::win:
        return !wins;
    case GoalKind::draw:
        return !draws;
    case GoalKind::win_material:
    case GoalKind::hold:
        return !wins && !draws;
    case GoalKind::best:
    case GoalKind::not_checked:
        break;
    }
    return false;
}

void judge_goal(const PuzzleView& view, const ResultClaim& claim, Findings& findings) {
    const bool wins = claim.outcome == won_by(view.solver_side());
    if (!excluded(view.goal().kind, wins, claim.outcome == Outcome::drawn)) {
        return;
    }
    findings
        .add(view, claim.span, "goal",
             {{"result", claim.text},
              {"goal", collection::write_goal(view.goal())},
              {"side", std::string(side_name(view.solver_side()))}})
        .about(claim.text)
        .mend("correct the result, the goal or the side to move; or name the players when it is the game's");
}

/// Nobody stated a goal: the result is the only claim, and the key's verdict is held against it.
void judge_value(const PuzzleView& view, const ResultClaim& claim, Findings& findings) {
    const solve::MoveVerdict* const key = view.table().of(*view.key());
    if (key == nullptr || key->reaches_goal != solve::Answer::yes || view.goal().kind == GoalKind::best ||
        claim.outcome == won_by(view.solver_side()) || is_hollow(view, key->value, key->certainty) ||
        is_idle(view, key->value, key->certainty)) {
        return;
    }
    const int least = (claim.outcome == Outcome::drawn ? 2 : 1) * view.settings().win_at; // small leads draw
    if (!key->value.mate_in && key->value.score < least) {
        return;
    }
    findings
        .add(view, claim.span, "value",
             {{"result", claim.text},
              {"key", board::write_san(*view.position(), key->move)},
              {"side", std::string(side_name(view.solver_side()))},
              {"value", value_text(*key)}})
        .about(claim.text)
        .known(key->certainty)
        .shown(*view.position(), key->line)
        .mend("correct the result or the key");
}

/// False when the tag and the marker are at odds: then that is the fault.
bool judge_pair(const PuzzleView& view, const ResultClaim& tag, const ResultClaim& marker,
                const std::optional<board::Position>& last, Findings& findings) {
    if (tag.text == marker.text || (!tag.outcome && tag.text != "*")) {
        return true;
    }
    const bool both = tag.outcome && marker.outcome;
    const bool tag_right = last && tag.outcome == outcome_of(*last);
    const bool marker_right = last && marker.outcome == outcome_of(*last);
    findings.add(view, tag.span, both ? "disagree" : "half", {{"tag", tag.text}, {"marker", marker.text}})
        .about(tag.text + " " + marker.text)
        .mend(tag_right      ? "the line ends as the tag says"
              : marker_right ? "the line ends as the marker says"
                             : "make them the same");
    return !both;
}

} // namespace

void result(const PuzzleView& view, Findings& findings) {
    const collection::Field* const field = view.puzzle().field("Result");
    const auto& closing = view.puzzle().solution.result;
    const ResultClaim tag = field == nullptr ? ResultClaim{} : claim_of(field->value, field->span);
    const ResultClaim marker = closing ? claim_of(closing->value, closing->span) : ResultClaim{};
    const bool playable = view.position() && !view.side_in_doubt();
    const std::optional<board::Position> last = playable ? ended(view) : std::nullopt;
    if (field != nullptr && closing && !judge_pair(view, tag, marker, last, findings)) {
        return;
    }
    const ResultClaim& claim = marker.outcome ? marker : tag;
    const bool testable = !view.puzzle().goal || view.puzzle().goal->value.kind != GoalKind::not_checked;
    if (!claim.outcome || !playable || !testable) {
        return;
    }
    if (last) {
        judge_end(view, claim, *last, findings);
    } else if (players_named(view)) {
        return;
    } else if (view.goal_stated()) {
        judge_goal(view, claim, findings);
    } else if (view.can_judge_play()) {
        judge_value(view, claim, findings);
    }
}

} // namespace rules::line
