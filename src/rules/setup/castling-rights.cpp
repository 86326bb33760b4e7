#include "rules/diagram.hpp"
#include "rules/play.hpp"

#include <fmt/format.h>

namespace rules::diagram {

namespace {

using board::CastlingSide;
using board::Color;
using board::Setup;

/// The diagram with every right of the defender that nothing speaks against.
Setup with_rights(const Setup& diagram, Color color) {
    Setup allowed = diagram;
    for (const CastlingSide side : {CastlingSide::king, CastlingSide::queen}) {
        Setup other = allowed;
        other.castling.add(color, side);
        const auto found = setup::contradictions(other);
        const bool possible = std::none_of(found.begin(), found.end(), [](const setup::Contradiction& c) {
            return c.grade != setup::Grade::suspicion && c.rule != setup::Rule::counters;
        });
        allowed = possible ? other : allowed;
    }
    return allowed;
}

/// A mate with the counters of a composition: in one castling is allowed unless king or rook is shown to have
/// moved (Codex for Chess Composition, article 16; number from memory).
bool may_be_composed(const PuzzleView& view) {
    const Setup& diagram = view.puzzle().reading.setup;
    return view.goal_stated() && view.goal().kind == collection::GoalKind::mate && view.goal().moves > 1 &&
           diagram.halfmoves == 0 && diagram.fullmove <= 1 && !view.puzzle().lead_in;
}

/// R4: the field denies the defender a right, and with it the key would fail.
void judge_denied(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play() || !may_be_composed(view)) {
        return;
    }
    const Color defender = !view.solver_side();
    const Setup& diagram = view.puzzle().reading.setup;
    const Setup allowed = with_rights(diagram, defender);
    if (allowed.castling == diagram.castling) {
        return;
    }
    const solve::MoveVerdict* const key = view.table().of(*view.key());
    const auto position = board::Position::from(allowed);
    if (!position || key == nullptr || key->reaches_goal != solve::Answer::yes || !may_ask_more(view)) {
        return;
    }
    const board::Position after = position->after(*view.key());
    const auto judged = view.solver().reaches(after, view.solver_side(), view.aim(1));
    if (judged.answer != solve::Answer::no || judged.certainty != solve::Certainty::proved) {
        return;
    }
    std::vector<board::Move> line{*view.key()};
    line.insert(line.end(), judged.line.begin(), judged.line.end());
    findings
        .add(view, view.puzzle().fen.span, "denied",
             {{"side", defender == Color::white ? "White" : "Black"},
              {"key", numbered(*view.position(), *view.key())}})
        .about("R4")
        .known(solve::Certainty::proved)
        .shown(*position, line, 1)
        .mend("say why castling is out, or write " + board::write_fen(allowed) + " and mend the problem");
}

} // namespace

void castling_rights(const PuzzleView& view, Findings& findings) {
    report(view, findings, setup::Rule::castling_rights);
    judge_denied(view, findings);
}

} // namespace rules::diagram
