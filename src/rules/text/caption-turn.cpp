#include "rules/play.hpp"
#include "rules/rule.hpp"
#include "rules/sides.hpp"

#include "board/san.hpp"

#include <algorithm>
#include <array>

namespace rules::text {

namespace {

using board::Color;
using collection::Phrase;
using collection::PhraseKind;
using collection::SideStatement;

bool has_caption_of_side(const collection::Puzzle& puzzle) {
    return std::any_of(puzzle.sides.begin(), puzzle.sides.end(), [](const SideStatement& side) {
        return side.source == SideStatement::Source::caption;
    });
}

void judge_statement(const PuzzleView& view, Findings& findings) {
    for (const SideStatement& side : view.puzzle().sides) {
        if (side.color == view.solver_side()) {
            continue;
        }
        findings
            .add(view, side.span, "caption",
                 {{"side", std::string(side_name(side.color))},
                  {"other", std::string(side_name(!side.color))}})
            .about(std::string(board::name(side.color)))
            .mend(std::string("let the caption say ") + std::string(side_name(!side.color)));
        return;
    }
}

/// "Black mates in two" under a diagram in which White moves. A win or a draw is not meant so strictly: in
/// studies the words speak of White whoever moves.
void judge_demand(const PuzzleView& view, Findings& findings) {
    for (const auto& demand : view.puzzle().demands) {
        const Phrase& phrase = demand.value;
        const bool strict = phrase.kind == PhraseKind::mate || phrase.kind == PhraseKind::unit;
        if (!strict || !phrase.side || *phrase.side == view.solver_side()) {
            continue;
        }
        findings
            .add(view, demand.span, "mover",
                 {{"side", std::string(side_name(*phrase.side))},
                  {"what",
                   phrase.kind == PhraseKind::mate ? "mate" : "win the " + std::string(name(phrase.unit))},
                  {"other", std::string(side_name(!*phrase.side))}})
            .about(std::string(board::name(*phrase.side)));
        return;
    }
}

/// What stands over the puzzle: the collection's title, a chapter's name.
std::vector<collection::Stated<std::string>> headings_of(const PuzzleView& view) {
    std::vector<collection::Stated<std::string>> headings;
    if (view.document().title) {
        headings.push_back(*view.document().title);
    }
    for (const std::string_view name : {"chapter", "section", "heading"}) {
        if (const collection::Field* const field = view.puzzle().field(name)) {
            headings.push_back({field->value, field->span});
        }
    }
    return headings;
}

/// The side that a text names, when it names one.
std::optional<Color> side_in(std::string_view text) {
    std::optional<Color> found;
    for (const Phrase& phrase : collection::read_phrases(text).phrases) {
        if (phrase.kind != PhraseKind::side_to_move) {
            continue;
        }
        if (found && found != phrase.side) {
            return std::nullopt;
        }
        found = phrase.side;
    }
    return found;
}

void judge_headings(const PuzzleView& view, Findings& findings) {
    for (const auto& heading : headings_of(view)) {
        const std::optional<Color> side = side_in(heading.value);
        if (!side || *side == view.solver_side()) {
            continue;
        }
        findings
            .add(view, view.puzzle().sides.front().span, "heading",
                 {{"heading", clipped(heading.value)},
                  {"side", std::string(side_name(*side))},
                  {"other", std::string(side_name(!*side))}})
            .about(std::string(board::name(*side)));
        return;
    }
}

} // namespace

void caption_turn(const PuzzleView& view, Findings& findings) {
    if (view.caption_mistaken()) {
        return judge_statement(view, findings);
    }
    if (view.side_in_doubt() || view.puzzle().sides.empty() || has_caption_of_side(view.puzzle())) {
        return; // turn/disagreement, turn/swapped; or the caption is right, and goes before any heading
    }
    judge_demand(view, findings);
    judge_headings(view, findings);
}

} // namespace rules::text
