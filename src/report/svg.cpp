#include "report/svg.hpp"

#include "board/fen.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>

namespace report {
namespace {

using board::Color;
using board::Role;
using board::Setup;
using board::Square;
using Page = Written<Html>;

/// A man within a square of a hundred units: its outline, and lines within it.
struct Shape {
    Role role;
    Literal outline;
    Literal lines;
};

constexpr Shape shapes[] = {
    {Role::pawn, "M50 17a13 13 0 1 1-.01 0ZM41 43H59C59 60 70 63 71 80H29C30 63 41 60 41 43ZM25 80H75V91H25Z",
     "M29 80H71"},
    {Role::knight,
     "M34 80C33 66 48 60 46 49C40 54 34 59 27 57C20 55 20 48 25 43L37 27L36 12L48 21C66 23 77 46 73 "
     "80ZM26 80H76V91H26Z",
     "M41 32a2 2 0 1 1-.01 0M56 31C64 40 66 54 66 70"},
    {Role::bishop,
     "M50 7a5 5 0 1 1-.01 0ZM50 18C67 30 71 45 62 58H38C29 45 33 30 50 18ZM36 58H64L70 80H30ZM25 "
     "80H75V91H25Z",
     "M50 28V48M41 38H59M35 66H65M30 80H70"},
    {Role::rook, "M28 15H38V23H45V15H55V23H62V15H72V35L64 42V69L70 80H30L36 69V42L28 35ZM24 80H76V91H24Z",
     "M36 42H64M36 69H64M30 80H70"},
    {Role::queen,
     "M20 27L32 62H68L80 27L64 45L59 19L50 43L41 19L36 45ZM20 18a5 5 0 1 1-.01 0ZM41 10a5 5 0 1 1-.01 0ZM59 "
     "10a5 5 0 1 1-.01 0ZM80 18a5 5 0 1 1-.01 0ZM32 62H68L72 80H28ZM24 80H76V91H24Z",
     "M32 62H68M30 71H70M28 80H72"},
    {Role::king,
     "M46 5H54V11H60V19H54V28H46V19H40V11H46ZM50 31C62 21 82 29 77 47C74 58 66 60 66 66H34C34 60 26 58 23 "
     "47C18 29 38 21 50 31ZM34 66H66L72 80H28ZM24 80H76V91H24Z",
     "M34 66H66M50 33V66M28 80H72"},
};

/// Names of symbols: colour and letter.
std::string symbol(Color color, Role role) {
    return fmt::format("{}{}", color == Color::white ? 'w' : 'b', board::letter({Color::white, role}));
}

struct Point {
    int x;
    int y;
};

/// Upper left corner of a square, in hundreds.
Point corner(Square square, Color below) {
    const int file = board::file_of(square);
    const int rank = board::rank_of(square);
    return below == Color::white ? Point{file, 7 - rank} : Point{7 - file, rank};
}

Page number(int value) {
    Page text;
    text << Untrusted(std::to_string(value));
    return text;
}

void add_men(Page& page, const Drawing& drawing) {
    for (const Square square : drawing.setup.occupied()) {
        const auto piece = drawing.setup.at(square);
        const Point at = corner(square, drawing.below);
        page << "<use href=\"#" << Untrusted(symbol(piece->color, piece->role)) << "\" x=\""
             << number(100 * at.x) << "\" y=\"" << number(100 * at.y) << "\" width=\"100\" height=\"100\"/>";
    }
}

/// Corners within a square.
void add_mark(Page& page, Square square, Color below) {
    const Point at = corner(square, below);
    page << "<path class=\"mark\" transform=\"translate(" << number(100 * at.x) << " " << number(100 * at.y)
         << ")\" d=\"M7 30V7H30M70 7H93V30M93 70V93H70M30 93H7V70\"/>";
}

/// From the middle of one square to just before the middle of the other.
void add_arrow(Page& page, const Arrow& arrow, Color below) {
    const Point from = corner(arrow.from, below);
    const Point to = corner(arrow.to, below);
    const double dx = 100.0 * (to.x - from.x);
    const double dy = 100.0 * (to.y - from.y);
    const double length = std::hypot(dx, dy);
    if (length < 1) {
        return;
    }
    const double angle = std::atan2(dy, dx) * 180 / 3.14159265358979;
    const std::string turn =
        fmt::format("translate({} {}) rotate({:.2f})", 100 * from.x + 50, 100 * from.y + 50, angle);
    const std::string shaft = fmt::format("M24 0H{:.0f}", length - 34);
    const std::string head = fmt::format("M{0:.0f} -27L{1:.0f} 0L{0:.0f} 27Z", length - 42, length - 4);
    page << "<g transform=\"" << Untrusted(turn) << "\"><path class=\"arrow-edge\" d=\"" << Untrusted(shaft)
         << "\"/><path class=\"arrow" << (arrow.kind == Arrow::Kind::reply ? Literal(" reply") : Literal(""))
         << "\" d=\"" << Untrusted(shaft) << "\"/><path class=\"head\" d=\"" << Untrusted(head) << "\"/></g>";
}

/// Letters and numbers beside the board, and the sign of the side to move at its own edge of the board.
void add_edge(Page& page, const Drawing& drawing) {
    for (int i = 0; i < 8; ++i) {
        const bool white_below = drawing.below == Color::white;
        const std::string file(1, static_cast<char>(white_below ? 'a' + i : 'h' - i));
        page << "<text class=\"label\" x=\"-28\" y=\"" << number(100 * i + 62) << "\">"
             << number(white_below ? 8 - i : i + 1) << "</text><text class=\"label\" x=\""
             << number(100 * i + 50) << "\" y=\"838\">" << Untrusted(file) << "</text>";
    }
    const bool at_the_foot = drawing.setup.turn == drawing.below;
    page << "<rect class=\"man " << (drawing.setup.turn == Color::white ? Literal("white") : Literal("black"))
         << "\" x=\"816\" y=\"" << number(at_the_foot ? 762 : 8) << "\" width=\"30\" height=\"30\"/>";
}

std::string men_of(const Setup& setup, Color color) {
    std::vector<std::string> groups;
    for (auto role = board::all_roles.rbegin(); role != board::all_roles.rend(); ++role) {
        std::string squares;
        std::size_t men = 0;
        for (const Square square : setup.pieces(color, *role)) {
            squares += (men++ > 0 ? " " : "") + board::name(square);
        }
        if (men > 0) {
            groups.push_back(fmt::format("{}{} {}", board::name(*role), men > 1 ? "s" : "", squares));
        }
    }
    return groups.empty() ? "no men" : fmt::format("{}", fmt::join(groups, ", "));
}

} // namespace

Page svg_symbols() {
    Page page;
    page << "<defs><pattern id=\"hatch\" width=\"14\" height=\"14\" patternUnits=\"userSpaceOnUse\" "
            "patternTransform=\"rotate(45)\"><path class=\"hatching\" d=\"M0 0V14\"/></pattern></defs>"
            "<symbol id=\"ground\" viewBox=\"0 0 800 800\"><rect class=\"light\" width=\"800\" "
            "height=\"800\"/><path class=\"dark\" d=\"";
    for (int row = 0; row < 8; ++row) {
        for (int column = 1 - row % 2; column < 8; column += 2) {
            page << "M" << number(100 * column) << " " << number(100 * row) << "h100v100h-100Z";
        }
    }
    page << "\"/></symbol>";
    for (const Color color : {Color::white, Color::black}) {
        const bool white = color == Color::white;
        for (const Shape& shape : shapes) {
            page << "<symbol id=\"" << Untrusted(symbol(color, shape.role))
                 << "\" viewBox=\"0 0 100 100\"><path class=\"halo\" d=\"" << shape.outline
                 << "\"/><path class=\"man " << (white ? Literal("white") : Literal("black")) << "\" d=\""
                 << shape.outline << "\"/><path class=\"man "
                 << (white ? Literal("white-line") : Literal("black-line")) << "\" d=\"" << shape.lines
                 << "\"/></symbol>";
        }
    }
    return page;
}

Page svg_board(const Drawing& drawing, std::size_t number_of_board) {
    Page page;
    page << "<svg class=\"board\" viewBox=\"-50 -10 910 870\" role=\"img\" aria-labelledby=\"board-"
         << number_of_board << "\"><title id=\"board-" << number_of_board << "\">"
         << Untrusted(board_in_words(drawing.setup))
         << "</title><rect class=\"ground\" x=\"-50\" y=\"-10\" width=\"910\" height=\"870\"/>"
            "<use href=\"#ground\" width=\"800\" height=\"800\"/><g class=\"men\">";
    add_men(page, drawing);
    page << "</g><g class=\"drawing\">";
    for (const Square square : drawing.marked) {
        add_mark(page, square, drawing.below);
    }
    for (const Arrow& arrow : drawing.arrows) {
        add_arrow(page, arrow, drawing.below);
    }
    page << "</g><rect class=\"frame\" width=\"800\" height=\"800\"/>";
    add_edge(page, drawing);
    page << "</svg>";
    return page;
}

std::string board_in_words(const Setup& setup) {
    return fmt::format("White: {}. Black: {}. {} to move.", men_of(setup, Color::white),
                       men_of(setup, Color::black), setup.turn == Color::white ? "White" : "Black");
}

std::string men_for_script(const Setup& setup, Color below) {
    std::string text;
    for (const Square square : setup.occupied()) {
        const auto piece = setup.at(square);
        const Point at = corner(square, below);
        text += fmt::format("{}{}{}", text.empty() ? "" : " ", symbol(piece->color, piece->role),
                            8 * at.y + at.x);
    }
    return text;
}

std::string svg(const Drawing& drawing) {
    Page page;
    page << "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"-50 -10 910 870\">\n<style>"
            ".ground,.light,.white{fill:#fff}.dark{fill:url(#hatch)}.hatching{stroke:#000;stroke-width:3}"
            ".frame,.mark,.arrow,.arrow-edge,.white-line,.black-line,.halo{fill:none}.frame,.man,.mark,."
            "arrow{stroke:#000}"
            ".frame,.man{stroke-width:4;stroke-linejoin:round;stroke-linecap:round}.black,.head,.label{fill:#"
            "000}"
            ".man.black-line{stroke:#fff}.halo{stroke:#fff;stroke-width:12;stroke-linejoin:round}.mark{"
            "stroke-width:9}"
            ".arrow{stroke-width:13}.arrow-edge{stroke:#fff;stroke-width:23}.reply{stroke-dasharray:26 16}"
            ".head{stroke:#fff;stroke-width:5}.label{font:34px serif;text-anchor:middle}</style>\n"
         << svg_symbols() << "\n"
         << svg_board(drawing, 1) << "\n</svg>\n";
    return std::move(page).text();
}

} // namespace report
