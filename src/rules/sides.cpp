#include "rules/sides.hpp"

#include "board/san.hpp"

#include <algorithm>

namespace rules {

using board::Color;

bool statements_disagree(const collection::Puzzle& puzzle) {
    return std::any_of(puzzle.sides.begin(), puzzle.sides.end(), [&](const collection::SideStatement& side) {
        return side.color != puzzle.sides.front().color;
    });
}

bool only_captions_differ(const collection::Puzzle& puzzle) {
    return statements_disagree(puzzle) &&
           std::all_of(puzzle.sides.begin(), puzzle.sides.end(), [&](const collection::SideStatement& side) {
               return side.color == puzzle.sides.front().color ||
                      side.source == collection::SideStatement::Source::caption;
           });
}

std::string statements_of(const collection::Puzzle& puzzle) {
    const auto source = [](collection::SideStatement::Source from) {
        switch (from) {
        case collection::SideStatement::Source::fen:
            return "the FEN says ";
        case collection::SideStatement::Source::field:
            return "the field says ";
        case collection::SideStatement::Source::move_number:
            return "the move number says ";
        case collection::SideStatement::Source::caption:
            break;
        }
        return "the caption says ";
    };
    std::string text;
    for (const collection::SideStatement& side : puzzle.sides) {
        text += (text.empty() ? "" : ", ") + std::string(source(side.source)) +
                std::string(board::name(side.color));
    }
    return text;
}

namespace {

std::optional<board::Position> with_side(const collection::Puzzle& puzzle, Color side) {
    board::Setup setup = puzzle.position ? puzzle.position->setup() : puzzle.reading.setup;
    if (!puzzle.position && !puzzle.reading.usable) {
        return std::nullopt;
    }
    setup.turn = side;
    const auto position = board::Position::from(board::without_field_faults(setup));
    return position ? std::optional(*position) : std::nullopt;
}

} // namespace

Playable playable(const collection::Puzzle& puzzle, Color side) {
    const std::optional<board::Position> start = with_side(puzzle, side);
    const auto& nodes = puzzle.solution.nodes;
    if (!start || nodes[0].children.empty()) {
        return {};
    }
    Playable result;
    board::Position now = *start;
    std::size_t node = 0;
    while (!nodes[node].children.empty()) {
        node = nodes[node].children.front();
        if (nodes[node].status == collection::MoveStatus::any) {
            break; // what stands behind "any" is no line
        }
        const auto san = board::read_san(nodes[node].text);
        const std::optional<board::Move> plain = board::read_coordinate(now, nodes[node].text);
        const auto move = san ? board::resolve(now, *san) : board::failure(board::SanFailure{});
        if (!plain && !move) {
            return result;
        }
        now.make(plain ? *plain : *move);
        ++result.plies;
    }
    result.all = true;
    return result;
}

std::optional<Color> side_supported(const PuzzleView& view) {
    const collection::Puzzle& puzzle = view.puzzle();
    const Playable white = playable(puzzle, Color::white);
    const Playable black = playable(puzzle, Color::black);
    if (white.all != black.all) {
        return white.all ? Color::white : Color::black;
    }
    if (!white.all) {
        return std::nullopt;
    }
    const auto wins = [&](Color side) {
        const std::optional<board::Position> position = with_side(puzzle, side);
        const std::string& text = puzzle.solution.nodes[puzzle.solution.nodes[0].children.front()].text;
        const auto plain = board::read_coordinate(*position, text);
        const auto san = board::read_san(text);
        const board::Move key = plain ? *plain : *board::resolve(*position, *san);
        const auto found =
            view.solver().reaches(position->after(key), side, solve::Aim::value(view.settings().win_at));
        return found.answer == solve::Answer::yes;
    };
    const bool white_wins = wins(Color::white);
    const bool black_wins = wins(Color::black);
    if (white_wins == black_wins) {
        return std::nullopt;
    }
    return white_wins ? Color::white : Color::black;
}

} // namespace rules
