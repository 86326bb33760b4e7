// The report as one page: no network, nothing that needs a script to be read. What stands in the collection
// is escaped, and the page's own policy lets no other style or script run than the two compiled in.

#include "board/fen.hpp"
#include "board/san.hpp"
#include "report/head.hpp"
#include "report/overview.hpp"
#include "report/page/shell.hpp"
#include "report/svg.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <span>

namespace report {
namespace {

using board::Position;
using Page = Written<Html>;

/// A finding's diagram where what it claims begins, with its play.
struct Scene {
    Drawing drawing;
    std::vector<Position> positions; ///< before each move told and after the last; empty: nothing to play
    std::vector<std::string> moves;  ///< as people write them
    std::string before;              ///< the printed moves that lead there
};

/// The moves of a finding, as far as they can be played.
std::vector<board::Move> moves_of(const Position& start, const std::vector<std::string>& line) {
    std::vector<board::Move> moves;
    Position now = start;
    for (const std::string& san : line) {
        const auto read = board::read_san(san);
        if (!read) {
            break;
        }
        const auto move = board::resolve(now, *read);
        if (!move) {
            break;
        }
        moves.push_back(*move);
        now.make(*move);
    }
    return moves;
}

/// Nothing when the finding shows no diagram.
std::optional<Scene> scene_of(const rules::Finding& finding) {
    const board::FenReading reading = board::read_fen(finding.fen, board::Start::by_letters);
    if (finding.fen.empty() || !reading.usable) {
        return std::nullopt;
    }
    Scene scene;
    scene.drawing.setup = reading.setup;
    scene.drawing.below = reading.setup.turn;
    scene.drawing.marked = finding.squares;
    const auto start = Position::from(board::without_field_faults(reading.setup));
    if (!start) {
        return scene;
    }
    Position now = *start;
    const std::vector<board::Move> moves = moves_of(*start, finding.line);
    const std::size_t printed = std::min(finding.printed, moves.size());
    scene.before = board::write_line(*start, std::span(moves).first(printed));
    for (std::size_t ply = 0; ply < moves.size(); ++ply) {
        if (ply >= finding.printed) {
            if (scene.positions.empty()) {
                scene.drawing.setup = now.setup();
            }
            if (scene.positions.size() < 2) {
                scene.drawing.arrows.push_back(
                    {moves[ply].from(), moves[ply].to(),
                     scene.positions.empty() ? Arrow::Kind::move : Arrow::Kind::reply});
            }
            scene.positions.push_back(now);
            scene.moves.push_back(fmt::format("{}{}{}", now.fullmove(),
                                              now.turn() == board::Color::white ? "." : "...",
                                              board::write_san(now, moves[ply])));
        }
        now.make(moves[ply]);
    }
    if (!scene.positions.empty()) {
        scene.positions.push_back(now);
    }
    return scene;
}

/// For the script: "1.Nf6+:wKg1 ..." a position, the first one without a move.
std::string plies_of(const Scene& scene) {
    std::string text;
    for (std::size_t i = 0; i < scene.positions.size(); ++i) {
        text += fmt::format("{}{}:{}", i == 0 ? "" : "|", i == 0 ? "" : scene.moves[i - 1],
                            men_for_script(scene.positions[i].setup(), scene.drawing.below));
    }
    return text;
}

void add_figure(Page& page, const Scene& scene, const rules::Finding& finding, std::size_t number) {
    page << "<figure>" << svg_board(scene.drawing, number) << "<figcaption>";
    if (!scene.positions.empty() && finding.printed > 0) {
        page << "After " << Untrusted(scene.before) << ", ";
    }
    page << (scene.drawing.setup.turn == board::Color::white ? Literal("White") : Literal("Black"))
         << " to move.</figcaption></figure>";
}

void add_steps(Page& page, const Scene& scene) {
    page << "<p class=\"steps\" data-plies=\"" << Untrusted(plies_of(scene))
         << "\" hidden><button type=\"button\" aria-label=\"One move back\">&#9664;</button> <button "
            "type=\"button\" "
            "aria-label=\"One move on\">&#9654;</button> <output></output></p>";
}

/// Attributes the script filters by.
void add_data(Page& page, const rules::Finding& finding) {
    page << " data-chapter=\"" << Untrusted(finding.file) << "\" data-rule=\"" << Untrusted(finding.rule)
         << "\" data-severity=\"" << Untrusted(rules::name(finding.severity)) << "\" data-status=\""
         << Untrusted(rules::name(finding.status)) << "\"";
}

void add_words(Page& page, const rules::Finding& finding) {
    page << "<h3><span class=\"level\">" << Untrusted(rules::name(finding.severity)) << "</span> "
         << Untrusted(finding.message) << "</h3><p class=\"where\">";
    if (!finding.puzzle.empty()) {
        page << "Puzzle <b>" << Untrusted(finding.puzzle) << "</b>, ";
    }
    page << "<code>" << Untrusted(finding.file) << ":" << finding.begin.line << ":" << finding.begin.column
         << "</code>, rule <code>" << Untrusted(finding.rule) << "</code>";
    if (finding.certainty) {
        page << ", " << Untrusted(solve::name(*finding.certainty));
    }
    page << ".</p>";
}

void add_rest(Page& page, const rules::Finding& finding, const std::optional<Scene>& scene) {
    if (!finding.play.empty()) {
        page << "<p class=\"play\">" << Untrusted(finding.play) << "</p>";
    }
    if (scene && !scene->positions.empty()) {
        add_steps(page, *scene);
    }
    if (const auto line = marked_line(finding)) {
        const std::size_t text = std::min(line->before.find_first_not_of(' '), line->before.size());
        page << "<p class=\"source\"><span class=\"number\">" << finding.begin.line << "</span> <code>"
             << (line->cut_before ? Literal("...") : Literal(""))
             << Untrusted(std::string_view(line->before).substr(text)) << "<mark>" << Untrusted(line->place)
             << "</mark>" << Untrusted(line->after) << "</code></p>";
    }
    if (!finding.cure.empty() && finding.status != rules::Status::gone) {
        page << "<p><b>Cure:</b> " << Untrusted(finding.cure) << ".</p>";
    }
    if (const std::string command = how_to_fix(finding); !command.empty()) {
        page << "<p><b>Correction:</b> <code>" << Untrusted(command) << "</code></p>";
    }
}

class Findings {
  public:
    Findings(const Report& report, std::size_t most_boards) : m_most_boards(most_boards) {
        for (const rules::Finding* finding : grouped(report)) {
            if (m_page.empty() || finding->status != m_status) {
                begin(*finding);
            }
            add(*finding);
        }
        m_page << (m_page.empty() ? Literal("<p>Nothing was found.</p>") : Literal("</section>"));
    }
    [[nodiscard]] const Page& page() const { return m_page; }
    [[nodiscard]] std::size_t without_board() const { return m_without_board; }

  private:
    void begin(const rules::Finding& finding) {
        if (!m_page.empty()) {
            m_page << "</section>";
        }
        m_status = finding.status;
        const Literal title = m_status == rules::Status::fresh   ? Literal("New")
                              : m_status == rules::Status::still ? Literal("Still there")
                              : m_status == rules::Status::gone  ? Literal("Gone")
                                                                 : Literal("Findings");
        m_page << "<section class=\"group\"><h2>" << title << "</h2>";
    }

    void add(const rules::Finding& finding) {
        std::optional<Scene> scene = scene_of(finding);
        if (scene && m_boards >= m_most_boards) {
            ++m_without_board;
            scene.reset();
        }
        m_page << "\n<article class=\"finding " << Untrusted(rules::name(finding.severity))
               << (scene ? Literal(" drawn\"") : Literal(" bare\""));
        add_data(m_page, finding);
        m_page << "><div class=\"head\">";
        add_words(m_page, finding);
        m_page << "</div>";
        if (scene) {
            add_figure(m_page, *scene, finding, ++m_boards);
        }
        m_page << "<div>";
        add_rest(m_page, finding, scene);
        m_page << "</div></article>";
    }

    Page m_page;
    std::size_t m_most_boards;
    std::size_t m_boards = 0;
    std::size_t m_without_board = 0;
    rules::Status m_status = rules::Status::none;
};

void add_counts(Page& page, const Report& report) {
    const Counts counts = count(report);
    page << "<header><h1>Puzzles checked by sidelint</h1><p class=\"counts\">"
         << Untrusted(plural(counts.error, "error")) << ", " << Untrusted(plural(counts.warning, "warning"))
         << ", " << Untrusted(plural(counts.note, "note")) << "</p><p class=\"about\">"
         << Untrusted(plural(report.puzzles, "puzzle")) << " in " << Untrusted(plural(report.files, "file"))
         << ", " << Untrusted(report.effort) << " effort.";
    if (!report.against_name.empty()) {
        page << " Against " << Untrusted(report.against_name) << ": " << counts.fresh << " new, "
             << counts.still << " still there, " << counts.gone << " gone; "
             << Untrusted(plural(report.unchanged, "puzzle")) << " unchanged.";
    }
    if (report.allowed > 0) {
        page << " Silenced by allowances: " << Untrusted(plural(report.allowed, "finding")) << ".";
    }
    page << "</p></header>\n";
}

void add_filters(Page& page) {
    page << "<form role=\"search\" aria-label=\"Filters\" hidden><label>Chapter <select "
            "name=\"chapter\"><option>all</option></select></label>"
            "<label>Rule <select name=\"rule\"><option>all</option></select></label>"
            "<label>Severity <select name=\"severity\"><option>all</option></select></label>"
            "<label>Status <select name=\"status\"><option>all</option></select></label>"
            "<button type=\"button\">Show all</button><span id=\"told\" role=\"status\"></span></form>\n";
}

/// Tables with a bar a row, as long as its share of the longest.
void add_overview(Page& page, const Report& report) {
    page << "<section><h2>Overview of " << Untrusted(plural(report.summaries.size(), "puzzle"))
         << "</h2><div class=\"tables\">";
    for (const CountTable& table : overview_of(report)) {
        std::size_t most = 1;
        for (const CountTable::Row& row : table.rows) {
            most = std::max(most, row.puzzles);
        }
        page << "<table><caption>By " << Untrusted(table.by) << "</caption>";
        for (const CountTable::Row& row : table.rows) {
            page << "<tr><th scope=\"row\">" << Untrusted(row.name) << "</th><td class=\"number\">"
                 << row.puzzles
                 << "</td><td><svg class=\"bar\" viewBox=\"0 0 100 10\" preserveAspectRatio=\"none\" "
                    "aria-hidden=\"true\"><rect height=\"10\" width=\""
                 << 100 * row.puzzles / most << "\"/></svg></td></tr>";
        }
        page << "</table>";
    }
    page << "</div></section>\n";
}

void add_foot(Page& page, const Report& report, std::size_t without_board) {
    page << "<footer>";
    if (without_board > 0) {
        page << "<p class=\"about\">" << Untrusted(plural(without_board, "finding"))
             << " without a board: a page holds only so many.</p>";
    }
    for (const std::string& remark : report.remarks) {
        page << "<p class=\"about\">" << Untrusted(remark) << ".</p>";
    }
    page << "<p class=\"about\">Proved: by a complete search or a rule of the game. "
            "Searched: held in a search that stayed stable to the depth it reached. "
            "Open: the budget ended first.</p>";
    page << "<p class=\"about\">sidelint " << Untrusted(report.version)
         << ". <code>sidelint explain RULE</code> tells what a rule means.</p></footer>\n";
}

} // namespace

std::string html(const Report& report, std::size_t most_boards) {
    Page page;
    page << page::begin("sidelint: puzzles checked");
    add_counts(page, report);
    add_filters(page);
    const Findings findings(report, most_boards);
    page << "<main>" << findings.page();
    if (report.overview) {
        add_overview(page, report);
    }
    page << "</main>\n";
    add_foot(page, report, findings.without_board());
    page << page::end();
    return std::move(page).text();
}

} // namespace report
