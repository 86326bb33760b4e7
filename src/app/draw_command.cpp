// sidelint draw: a diagram as a vector drawing, for books and slides.

#include "app/commands.hpp"
#include "board/fen.hpp"
#include "board/san.hpp"
#include "report/svg.hpp"

#include <fmt/format.h>

namespace app {
namespace {

/// What is drawn need not be playable; what cannot be read cannot be drawn.
Result<board::Setup> read_diagram(const std::string& fen) {
    board::FenReading reading = board::read_fen(fen, board::Start::by_letters);
    if (reading.usable) {
        return reading.setup;
    }
    return board::failure(usage_error(reading.faults.empty() ? "this is no FEN" : reading.faults.front().what,
                                      "sidelint draw \"6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1\""));
}

/// A move in SAN or coordinates, or two squares that need no man on them ("e2e4").
Result<report::Arrow> read_arrow(const board::Setup& setup, const std::string& text) {
    const auto from = board::read_square(text.substr(0, 2));
    const auto to = text.size() == 4 ? board::read_square(text.substr(2)) : std::nullopt;
    if (from && to) {
        return report::Arrow{*from, *to};
    }
    const auto position = board::Position::from(board::without_field_faults(setup));
    const auto san = board::read_san(text);
    if (position && san) {
        if (const auto move = board::resolve(*position, *san)) {
            return report::Arrow{move->from(), move->to()};
        }
    }
    return board::failure(
        usage_error(fmt::format("--arrow: '{}' is no legal move here, nor two squares", text),
                    "--arrow Rd8 or --arrow d1d8"));
}

} // namespace

int run_draw(const DrawOptions& options, const Streams& streams) {
    const auto setup = read_diagram(options.fen);
    if (!setup) {
        return end_with(streams, std::array{setup.error()});
    }
    report::Drawing drawing;
    drawing.setup = *setup;
    drawing.below = options.below.value_or(setup->turn);
    drawing.marked = options.marked;
    for (const std::string& text : options.arrows) {
        const auto arrow = read_arrow(*setup, text);
        if (!arrow) {
            return end_with(streams, std::array{arrow.error()});
        }
        drawing.arrows.push_back(*arrow);
    }
    return print_and_end(streams, report::svg(drawing));
}

} // namespace app
