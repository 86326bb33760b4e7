#include "catch.hpp"
#include "sample.hpp"

#include <sstream>

namespace {

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) {
        lines.push_back(line);
    }
    return lines;
}

bool has_line(const std::string& text, const std::string& wanted) {
    const auto lines = lines_of(text);
    return std::find(lines.begin(), lines.end(), wanted) != lines.end();
}

} // namespace

TEST_CASE("text: a finding is told in full") {
    const std::string text = report::text(sample::plain(), report::Colour::no);
    CHECK(lines_of(text)[0] ==
          "sets/first term.yaml:5:14: error key/cook: Qd8# solves it as well as the key Ra8# (searched)");
    CHECK(lines_of(text)[1] == "     5 |   solution: \"1.Ra8#\"");
    CHECK(lines_of(text)[2] == "       |              ^^^^");
    CHECK(has_line(text, "    puzzle  harbour-001"));
    CHECK(has_line(text, "    play    1.Qd8#"));
    CHECK(has_line(text, "    cure    accept it or change the diagram"));
    CHECK(has_line(text, "    8  . : . : . : . k"));
    CHECK(has_line(text, "    1  R . : Q : . K ."));
    CHECK(has_line(text, "       a b c d e f g h   White to move"));
    CHECK(has_line(text, "sets/second.pgn:1:1: warning file/syntax: a bracket is never closed"));
    CHECK(has_line(text, "Checked 36 puzzles in 2 files (review effort): 1 error, 1 warning, 0 notes."));
    CHECK(has_line(text, "More about a rule: sidelint explain key/cook"));
    CHECK(text.find('\x1b') == std::string::npos);
}

TEST_CASE("text: a diagram is drawn once for findings that share it") {
    report::Report report = sample::plain();
    report.findings = {sample::cook(), sample::cook()};
    const std::string text = report::text(report, report::Colour::no);
    const std::size_t first = text.find("White to move");
    REQUIRE(first != std::string::npos);
    CHECK(text.find("White to move", first + 1) == std::string::npos);
}

TEST_CASE("text: compared states come in groups, new ones first and in full") {
    const std::string text = report::text(sample::compared(), report::Colour::no);
    CHECK(lines_of(text)[0] == "New: 1 finding");
    const std::size_t fresh = text.find("(new, searched)");
    const std::size_t still = text.find("Still there: 1 finding");
    const std::size_t gone = text.find("Gone: 1 finding");
    CHECK(fresh < still);
    CHECK(still < gone);
    CHECK(gone != std::string::npos);
    CHECK(has_line(text, "sets/second.pgn:1:1: warning file/syntax: a bracket is never closed (still)"));
    CHECK(text.find("(gone, searched)") != std::string::npos);
    CHECK(has_line(text, "Against HEAD~1: 1 new, 1 still there, 1 gone; 30 puzzles unchanged."));
    CHECK(has_line(text, "Checked 36 puzzles in 2 files (review effort): 1 error, 1 warning, 0 notes."));
}

TEST_CASE("text: colour adds to words and replaces none") {
    std::string coloured = report::text(sample::compared(), report::Colour::yes);
    CHECK(coloured.find("\x1b[1;31merror\x1b[0m") != std::string::npos);
    for (std::size_t at = coloured.find('\x1b'); at != std::string::npos; at = coloured.find('\x1b')) {
        coloured.erase(at, coloured.find('m', at) + 1 - at);
    }
    CHECK(coloured == report::text(sample::compared(), report::Colour::no));
}

TEST_CASE("text: the caret stands under the place, whatever stands before it") {
    report::Report report = sample::plain();
    rules::Finding& finding = report.findings[0];
    finding.begin = {5, 5};
    finding.end = {5, 6};
    SECTION("a tab is one column") {
        finding.excerpt = "\tab X";
        CHECK(lines_of(report::text(report, report::Colour::no))[1] == "     5 |  ab X");
        CHECK(lines_of(report::text(report, report::Colour::no))[2] == "       |     ^");
    }
    SECTION("a control character is shown as text and pushes it") {
        finding.excerpt = "a\x1b"
                          "b X";
        CHECK(lines_of(report::text(report, report::Colour::no))[1] == "     5 | a\\u{1b}b X");
        CHECK(lines_of(report::text(report, report::Colour::no))[2] == "       |          ^");
    }
    SECTION("a wide character takes two cells") {
        finding.excerpt = "\xE6\xA3\x8B"
                          "ab X";
        CHECK(lines_of(report::text(report, report::Colour::no))[2] == "       |      ^");
    }
    SECTION("a place behind the excerpt has no caret") {
        finding.excerpt = "abc";
        CHECK(lines_of(report::text(report, report::Colour::no))[2].find('^') == std::string::npos);
    }
    SECTION("a place that ends on a later line is underlined to the end of its line") {
        finding.excerpt = "abcd efg";
        finding.end = {6, 2};
        CHECK(lines_of(report::text(report, report::Colour::no))[2] == "       |     ^^^^");
    }
}

TEST_CASE("text: nothing found is said, and -q says nothing") {
    report::Report report = sample::plain();
    report.findings.clear();
    CHECK(report::text(report, report::Colour::no) ==
          "Checked 36 puzzles in 2 files (review effort): 0 errors, 0 warnings, 0 notes.\n");
    CHECK(report::text(report, report::Colour::no, report::Closing::no).empty());
}

TEST_CASE("brief: first lines only, new ones first") {
    const auto lines = lines_of(report::brief(sample::compared()));
    REQUIRE(lines.size() == 3);
    CHECK(lines[0].find("(new, searched)") != std::string::npos);
    CHECK(lines[1].find("(still)") != std::string::npos);
    CHECK(lines[2].find("(gone, searched)") != std::string::npos);
}

TEST_CASE("count: gone findings are no longer there") {
    const report::Counts counts = report::count(sample::compared());
    CHECK(counts.error == 1);
    CHECK(counts.warning == 1);
    CHECK(counts.note == 0);
    CHECK(counts.fresh == 1);
    CHECK(counts.still == 1);
    CHECK(counts.gone == 1);
}
