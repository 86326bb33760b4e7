#include "collection/builder.hpp"

#include "collection/phrases.hpp"

#include <algorithm>
#include <array>

namespace collection {

namespace {

/// Nothing when the text says both, or neither: then it is no plain statement.
const Phrase* side_in(const std::vector<Phrase>& phrases) {
    const Phrase* found = nullptr;
    for (const Phrase& phrase : phrases) {
        if (phrase.kind != PhraseKind::side_to_move) {
            continue;
        }
        if (found != nullptr && phrase.side != found->side) {
            return nullptr;
        }
        found = found == nullptr ? &phrase : found;
    }
    return found;
}

bool asks_for_something(const Phrase& phrase) {
    switch (phrase.kind) {
    case PhraseKind::mate:
    case PhraseKind::win:
    case PhraseKind::win_sign:
    case PhraseKind::draw:
    case PhraseKind::draw_sign:
    case PhraseKind::hold:
    case PhraseKind::unit:
    case PhraseKind::other_kind:
        return !phrase.of_lines && !phrase.doubted;
    default:
        return false;
    }
}

bool same_demand(const Phrase& a, const Phrase& b) {
    return a.kind == b.kind && a.number == b.number && a.unit == b.unit && a.side == b.side;
}

} // namespace

std::optional<Goal> goal_of(const Phrase& phrase, board::Color solver) {
    if (phrase.side && *phrase.side != solver) {
        return std::nullopt;
    }
    constexpr std::array units{GoalUnit::pawn, GoalUnit::piece, GoalUnit::exchange,
                               GoalUnit::rook, GoalUnit::queen, GoalUnit::pawn}; // material: from a pawn on
    switch (phrase.kind) {
    case PhraseKind::mate:
        return Goal{GoalKind::mate, phrase.number};
    case PhraseKind::win_sign:
        return solver == board::Color::white ? std::optional(Goal{GoalKind::win}) : std::nullopt;
    case PhraseKind::win:
        return Goal{GoalKind::win};
    case PhraseKind::draw:
    case PhraseKind::draw_sign:
        return Goal{GoalKind::draw};
    case PhraseKind::hold:
        return Goal{GoalKind::hold};
    case PhraseKind::unit:
        return Goal{GoalKind::win_material, 0, units.at(static_cast<std::size_t>(phrase.unit))};
    case PhraseKind::other_kind:
        return Goal{GoalKind::not_checked};
    default:
        return std::nullopt;
    }
}

void add_caption(Puzzle& puzzle, const Source& source) {
    const PhrasesRead read = read_phrases(source.text());
    const auto says_side = [](const Phrase& phrase) { return phrase.kind == PhraseKind::side_to_move; };
    if (const Phrase* const side = side_in(read.phrases)) {
        puzzle.sides.push_back(
            {*side->side, SideStatement::Source::caption, source.span(side->begin, side->end)});
    } else if (std::any_of(read.phrases.begin(), read.phrases.end(), says_side)) {
        return; // says both: perhaps two tasks
    }
    const Phrase* demand = nullptr;
    for (const Phrase& phrase : read.phrases) {
        if (!asks_for_something(phrase)) {
            continue;
        }
        if (demand != nullptr && !same_demand(*demand, phrase)) {
            return; // two of them: which is meant is anybody's guess
        }
        demand = demand == nullptr ? &phrase : demand;
    }
    if (demand != nullptr) {
        puzzle.demands.push_back({*demand, source.span(demand->begin, demand->end)});
    }
}

void settle_goal(Puzzle& puzzle) {
    if (puzzle.goal || !puzzle.reading.usable) {
        return;
    }
    const board::Color solver = puzzle.position ? puzzle.position->turn() : puzzle.reading.setup.turn;
    for (const Stated<Phrase>& demand : puzzle.demands) {
        if (const std::optional<Goal> goal = goal_of(demand.value, solver)) {
            puzzle.goal = Stated<Goal>{*goal, demand.span};
            puzzle.goal_by_caption = true;
            return;
        }
    }
}

} // namespace collection
