#include "catch.hpp"
#include "outside.hpp"
#include "sample.hpp"

#include "report/overview.hpp"

#include <nlohmann/json.hpp>

namespace {

rules::PuzzleSummary summary(const std::string& file, const std::string& fen, const std::string& goal,
                             std::size_t moves) {
    rules::PuzzleSummary puzzle = sample::puzzle("p", file, 1);
    puzzle.fen = fen;
    puzzle.goal = goal;
    puzzle.moves = moves;
    return puzzle;
}

rules::PuzzleSummary::Motif motif(std::string name, std::size_t ply) {
    rules::PuzzleSummary::Motif motif;
    motif.motif = std::move(name);
    motif.ply = ply;
    return motif;
}

report::Report five() {
    report::Report report = sample::plain();
    report.findings.clear();
    report.overview = true;
    report.summaries = {summary("\xC3\x9C.yaml", "8/8 w - -", "mate in 2", 2),
                        summary("b.yaml", "8/8 b - -", "win", 12),
                        summary("b.yaml", "8/8 w - -", "mate in 2", 2), summary("a.yaml", "nonsense", "", 0),
                        summary("b.yaml", "8/8 w", "draw", 1)};
    report.summaries[0].key = rules::PuzzleSummary::Key{"Ra8#", "mates", solve::Certainty::proved, {}, 1};
    report.summaries[1].key = rules::PuzzleSummary::Key{"Ra8", "wins", solve::Certainty::searched, 300, {}};
    report.summaries[2].key = report.summaries[0].key;
    report.summaries[4].key = rules::PuzzleSummary::Key{"Kb1", "open", solve::Certainty::open, 0, {}};
    report.summaries[0].motifs = {motif("pin", 1), motif("fork", 3), motif("pin", 3)};
    report.summaries[1].motifs = {motif("fork", 1)};
    report.summaries[2].motifs = {motif("decoy", 1)};
    return report;
}

} // namespace

TEST_CASE("overview: every table counts every puzzle once, motifs aside") {
    for (const report::CountTable& table : report::overview_of(five())) {
        std::size_t puzzles = 0;
        for (const auto& row : table.rows) {
            puzzles += row.puzzles;
        }
        INFO(table.by);
        CHECK(puzzles == (table.by == "motif" ? 4 : 5));
    }
}

TEST_CASE("overview: text, in aligned columns, behind the findings") {
    CHECK(report::text(five()) ==
          "Overview of 5 puzzles\n\n"
          "    chapter               puzzles\n"
          "    a.yaml                      1\n"
          "    b.yaml                      3\n"
          "    \xC3\x9C.yaml                      1\n\n"
          "    motif                 puzzles\n"
          "    fork                        2\n"
          "    decoy                       1\n"
          "    pin                         1\n\n"
          "    side to move          puzzles\n"
          "    White                       3\n"
          "    Black                       1\n"
          "    not stated                  1\n\n"
          "    goal                  puzzles\n"
          "    mate in 2                   2\n"
          "    draw                        1\n"
          "    none                        1\n"
          "    win                         1\n\n"
          "    length                puzzles\n"
          "    no line                     1\n"
          "    1 move                      1\n"
          "    2 moves                     2\n"
          "    12 moves                    1\n\n"
          "    certainty of the key  puzzles\n"
          "    proved                      2\n"
          "    searched                    1\n"
          "    open                        1\n"
          "    not judged                  1\n\n"
          "Checked 36 puzzles in 2 files (review effort): 0 errors, 0 warnings, 0 notes.\n");
    report::Report without = five();
    without.overview = false;
    CHECK(report::text(without).find("Overview") == std::string::npos);
}

TEST_CASE("overview: json, jsonl and markdown hold the same tables") {
    const auto json = nlohmann::json::parse(report::json(five()));
    REQUIRE(json["overview"].size() == 6);
    CHECK(json["overview"][1]["by"] == "motif");
    CHECK(json["overview"][1]["rows"][0] == nlohmann::json{{"name", "fork"}, {"puzzles", 2}});
    CHECK(outside::json_faults(report::json(five()), report::json_schema()).empty());
    CHECK(report::json_lines(five()).find("{\"type\":\"overview\",\"tables\":[{\"by\":\"chapter\"") !=
          std::string::npos);
    const std::string html = outside::html_of(report::markdown(five()));
    CHECK(html.find("<td>mate in 2</td>\n<td align=\"right\">2</td>") != std::string::npos);
    CHECK(html.find("Overview of 5 puzzles") != std::string::npos);
}

TEST_CASE("overview: hostile names stay text, and nothing checked has no rows") {
    report::Report report = sample::hostile();
    report.overview = true;
    const std::string text = report::text(report);
    CHECK(text.find('\x1b') == std::string::npos);
    CHECK(text.find("##[") == std::string::npos);
    const std::string html = outside::html_of(report::markdown(report));
    CHECK(html.find("<script") == std::string::npos);
    CHECK(html.find("<a ") == std::string::npos);
    report::Report empty;
    empty.overview = true;
    CHECK(report::text(empty).starts_with("Overview of 0 puzzles\n\nChecked 0 puzzles"));
    CHECK(outside::json_faults(report::json(empty), report::json_schema()).size() > 0); // no effort is stated
    empty.effort = "review";
    CHECK(outside::json_faults(report::json(empty), report::json_schema()).empty());
}
