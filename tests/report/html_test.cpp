// The HTML page and its drawings, read back by xmllint and held against what a browser is told.
#include "catch.hpp"
#include "holds.hpp"
#include "outside.hpp"
#include "report/changes.hpp"
#include "report/page/parts.hpp"
#include "report/svg.hpp"
#include "sample.hpp"

#include "board/fen.hpp"

namespace {

/// XPath on a page of HTML.
std::string asked(const std::string& page, const std::string& expression) {
    std::string text =
        outside::run("(xmllint --html --nodefdtd --xpath '" + expression + "' {0} 2>/dev/null)", {page}).out;
    while (!text.empty() && text.back() == '\n') {
        text.pop_back();
    }
    return text;
}

std::string sha256_base64(const std::string& text) {
    std::string hash = outside::run("openssl dgst -sha256 -binary {0} | base64", {text}).out;
    hash.pop_back();
    return hash;
}

} // namespace

TEST_CASE("html: every finding, grouped, with its words and its board") {
    const std::string page = report::html(sample::mixed());
    CHECK(asked(page, "count(//article)") == "6");
    CHECK(asked(page, "count(//section)") == "3");
    CHECK(asked(page, "string(//section[1]/h2)") == "New");
    CHECK(asked(page, "string((//article)[1]/div/h3)").starts_with("warning "));
    CHECK(holds(asked(page, "string((//article)[1]//*[local-name()=\"title\"])"), "king h8"));
    CHECK(asked(page, "string(//*[@class=\"counts\"])") == "2 errors, 2 warnings, 1 note");
    CHECK(holds(asked(report::html(report::Report()), "string(//main)"), "Nothing was found."));
    CHECK_FALSE(holds(page, "\\u{a}")); // the line of the file and the one that points into it
}

TEST_CASE("html: the source line wraps with its place marked; the command that corrects; no cure for what is "
          "gone") {
    report::Report report = sample::plain();
    rules::Finding& cook = report.findings[0];
    const std::string page = report::html(report);
    CHECK(asked(page, "string(//article[1]//*[@class=\"source\"])") == "5 solution: \"1.Ra8#\"");
    CHECK(asked(page, "string(//article[1]//mark)") == "1.Ra");
    CHECK_FALSE(holds(page, "Correction:"));
    cook.excerpt_column = 5; // a long line, of which this is a part
    cook.begin = cook.end = {5, 16};
    cook.excerpt = "\xC3\x9C: \"1.Ra8#\", fine";
    cook.fix = rules::Fix{rules::Fix::Kind::suggested, {{{3, 4}, "x"}}, {}};
    CHECK(asked(report::html(report), "string(//article[1]//*[@class=\"source\"])") ==
          "5 ...\xC3\x9C: \"1.Ra8#\", fine");
    CHECK(asked(report::html(report), "string(//article[1]//mark)") ==
          ","); // an empty place: what stands behind it
    CHECK(holds(report::html(report), "<code>sidelint fix --apply 00000000000000a1</code>"));
    cook.status = rules::Status::gone;
    CHECK_FALSE(holds(report::html(report), "Correction:"));
    CHECK_FALSE(holds(report::html(report), "Cure:"));
}

TEST_CASE("html: the page's policy names the hashes of its only style and its only script") {
    const std::string page = report::html(sample::mixed());
    CHECK(asked(page, "count(//style)") == "1");
    CHECK(asked(page, "count(//script)") == "1");
    CHECK(asked(page, "count(//*[@style]|//*[@onclick]|//*[@src]|//link|//iframe)") == "0");
    CHECK(holds(page, "'sha256-" + sha256_base64(std::string(report::page::css().text())) + "'"));
    CHECK(holds(page, "'sha256-" + sha256_base64(std::string(report::page::js().text())) + "'"));
    CHECK(holds(page, "default-src 'none'"));
    CHECK_FALSE(holds(page, "unsafe"));
}

TEST_CASE("html: hostile text is text") {
    const std::string page = report::html(sample::hostile());
    CHECK(asked(page, "count(//script)") == "1");
    CHECK(asked(page, "count(//style)") == "1");
    CHECK_FALSE(holds(page, "\x1b"));
    CHECK(holds(asked(page, "string(//main)"), "<script>"));
}

TEST_CASE("html: a page holds only so many boards, and says what it left out") {
    report::Report report = sample::plain();
    report.findings.assign(5, sample::cook());
    const std::string page = report::html(report, 2);
    CHECK(asked(page, "count(//article)") == "5");
    CHECK(asked(page, "count(//figure)") == "2");
    CHECK(holds(page, "3 findings without a board"));
}

TEST_CASE("html: where printed moves lead there, the board stands behind them") {
    report::Report report = sample::plain();
    report.findings = {sample::cook()};
    report.findings.front().fen = "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1";
    report.findings.front().line = {"Rd7", "h6", "Rd8+"};
    report.findings.front().printed = 2;
    const std::string page = report::html(report);
    CHECK(holds(page, "<figcaption>After 1.Rd7 h6, White to move.</figcaption>"));
    CHECK(holds(asked(page, "string((//article)[1]//*[local-name()=\"title\"])"), "rook d7"));
    CHECK(asked(page, "count(//p[@class=\"steps\"])") == "1");
    CHECK(holds(page, "|2.Rd8+:"));
}

TEST_CASE("svg: a file of its own that another reader takes for well-formed, in words too") {
    report::Drawing drawing;
    drawing.setup = board::read_fen("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1").setup;
    drawing.marked = {board::Square::g8};
    drawing.arrows = {{board::Square::d1, board::Square::d8}};
    const std::string file = report::svg(drawing);
    CHECK(outside::run("xmllint --noout {0}", {file}).status == 0);
    CHECK(outside::xpath(file, "count(//*[local-name()='use'])") == "10"); // nine men and the ground
    CHECK(outside::xpath(file, "string(//*[local-name()='title'])") ==
          "White: king g1, rook d1, pawns f2 g2 h2. Black: king g8, pawns f7 g7 h7. White to move.");
    // g8 is the seventh file from the left, seen from White; the second from Black.
    CHECK(holds(file, "translate(600 0)"));
    drawing.below = board::Color::black;
    CHECK(holds(report::svg(drawing), "translate(100 700)"));
}

TEST_CASE("svg: a diagram without kings is drawn as it is") {
    report::Drawing drawing;
    drawing.setup = board::read_fen("8/8/8/3N4/8/8/8/8 b - - 0 1").setup;
    CHECK(holds(report::svg(drawing), "White: knight d5. Black: no men. Black to move."));
}

TEST_CASE("html: a change has the boards of both states side by side, what differs marked") {
    report::Changes changes;
    changes.before = "HEAD~1";
    changes.after = "HEAD <b>";
    report::PuzzleChange puzzle;
    puzzle.id = "harbour-001";
    puzzle.file = "a.yaml";
    puzzle.fields = {{"position", {"black pawn h7 gone"}}};
    puzzle.diagram_before = board::read_fen("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1").setup;
    puzzle.diagram = board::read_fen("6k1/5pp1/8/8/8/8/5PPP/3R2K1 w - - 0 1").setup;
    puzzle.fresh = {sample::cook()};
    changes.puzzles = {puzzle};
    const std::string page = report::changes_html(changes);
    CHECK(asked(page, "count(//figure)") == "2");
    CHECK(asked(page, "count(//*[@class=\"mark\"])") == "2"); // h7 on each
    CHECK(holds(asked(page, "string(//h1)"), "HEAD <b>"));
    CHECK(holds(asked(page, "string(//article)"), "position: black pawn h7 gone"));
    CHECK(holds(asked(page, "string(//article)"), "1.Qd8#"));
    CHECK(asked(report::changes_html(changes, 0), "count(//figure)") == "0");
}

TEST_CASE("html: the overview is tables with a bar a row") {
    report::Report report = sample::mixed();
    report.overview = true;
    const std::string page = report::html(report);
    CHECK(asked(page, "count(//caption)") != "0");
    CHECK(asked(page, "count(//svg[@class=\"bar\"]/rect)") == asked(page, "count(//table/tr)"));
}
