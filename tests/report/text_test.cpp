#include "catch.hpp"
#include "sample.hpp"

#include "report/utf8.hpp"

#include <sstream>

namespace {

std::vector<std::string> text_lines(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) {
        lines.push_back(line);
    }
    return lines;
}

bool has_line(const std::string& text, const std::string& wanted) {
    const auto lines = text_lines(text);
    return std::find(lines.begin(), lines.end(), wanted) != lines.end();
}

/// The words of all values behind a label, however they are broken into lines.
std::vector<std::string> words_of(const std::string& text, const std::string& label) {
    std::vector<std::string> words;
    bool within = false;
    for (const std::string& line : text_lines(text)) {
        within = line.starts_with("    " + label + ' ') || (within && line.starts_with("            "));
        std::istringstream rest(within ? line.substr(12) : "");
        for (std::string word; rest >> word;) {
            words.push_back(word);
        }
    }
    return words;
}

report::Look coloured() {
    report::Look look;
    look.colour = report::Colour::yes;
    return look;
}

report::Look quiet() {
    report::Look look;
    look.closing = report::Closing::no;
    return look;
}

} // namespace

TEST_CASE("text: a finding is told in full") {
    const std::string text = report::text(sample::plain());
    CHECK(text_lines(text)[0] ==
          "sets/first term.yaml:5:14: error key/cook: Qd8# solves it as well as the key Ra8# (searched)");
    CHECK(text_lines(text)[1] == "     5 |   solution: \"1.Ra8#\"");
    CHECK(text_lines(text)[2] == "       |              ^^^^");
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
    const std::string text = report::text(report);
    const std::size_t first = text.find("White to move");
    REQUIRE(first != std::string::npos);
    CHECK(text.find("White to move", first + 1) == std::string::npos);
}

TEST_CASE("text: compared states come in groups, new ones first and in full") {
    const std::string text = report::text(sample::compared());
    CHECK(text_lines(text)[0] == "New: 1 finding");
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
    std::string shown = report::text(sample::compared(), coloured());
    CHECK(shown.find("\x1b[1msets/first term.yaml:5:14:\x1b[0m \x1b[1;31merror\x1b[0m key/cook: ") !=
          std::string::npos);
    CHECK(shown.find("\x1b[1;31m^^^^\x1b[0m\n") != std::string::npos);
    for (std::size_t at = shown.find('\x1b'); at != std::string::npos; at = shown.find('\x1b')) {
        shown.erase(at, shown.find('m', at) + 1 - at);
    }
    CHECK(shown == report::text(sample::compared()));
}

TEST_CASE("text: the caret stands under the place, whatever stands before it") {
    report::Report report = sample::plain();
    rules::Finding& finding = report.findings[0];
    finding.begin = {5, 5};
    finding.end = {5, 6};
    SECTION("a tab is one column") {
        finding.excerpt = "\tab X";
        CHECK(text_lines(report::text(report))[1] == "     5 |  ab X");
        CHECK(text_lines(report::text(report))[2] == "       |     ^");
    }
    SECTION("a control character is shown as text and pushes it") {
        finding.excerpt = "a\x1b"
                          "b X";
        CHECK(text_lines(report::text(report))[1] == "     5 | a\\u{1b}b X");
        CHECK(text_lines(report::text(report))[2] == "       |          ^");
    }
    SECTION("a wide character takes two cells") {
        finding.excerpt = "\xE6\xA3\x8B"
                          "ab X";
        CHECK(text_lines(report::text(report))[2] == "       |      ^");
    }
    SECTION("a place behind the excerpt has no caret") {
        finding.excerpt = "abc";
        CHECK(text_lines(report::text(report))[2].find('^') == std::string::npos);
    }
    SECTION("a place that ends on a later line is underlined to the end of its line") {
        finding.excerpt = "abcd efg";
        finding.end = {6, 2};
        CHECK(text_lines(report::text(report))[2] == "       |     ^^^^");
    }
}

TEST_CASE("text: lines keep to the width, and lose nothing") {
    const std::string wide = report::text(sample::mixed());
    for (const std::size_t columns : {std::size_t{40}, std::size_t{60}, std::size_t{80}, std::size_t{200}}) {
        report::Look look;
        look.width = columns;
        const std::string text = report::text(sample::mixed(), look);
        for (const std::string& line : text_lines(text)) {
            INFO(line);
            CHECK(report::width(line) <= columns);
        }
        CHECK(words_of(text, "play") == words_of(wide, "play"));
        CHECK(words_of(text, "cure") == words_of(wide, "cure"));
    }
}

TEST_CASE("text: an excerpt is cut around the place") {
    report::Report report = sample::plain();
    report.findings = {sample::cook()};
    rules::Finding& finding = report.findings[0];
    finding.excerpt = "0123456789abcdefghijklmnopqrstuvwxyz0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
    report::Look look;
    look.width = 40; // 31 of them for the excerpt
    const auto shown_at = [&](std::size_t begin, std::size_t end) {
        finding.begin = {5, begin};
        finding.end = {5, end};
        const auto lines = text_lines(report::text(report, look));
        const auto excerpt = std::find_if(lines.begin(), lines.end(), [](const std::string& line) {
            return line.starts_with("     5 | ");
        });
        REQUIRE(excerpt != lines.end());
        return std::pair(excerpt->substr(9), (excerpt + 1)->substr(9));
    };
    CHECK(shown_at(1, 3) == std::pair<std::string, std::string>("0123456789abcdefghijklmnopqr...", "^^"));
    CHECK(shown_at(11, 13).first == "0123456789abcdefghijklmnopqr...");
    CHECK(shown_at(37, 40) ==
          std::pair<std::string, std::string>("...stuvwxyz0123456789ABCDEFG...", "           ^^^"));
    CHECK(shown_at(71, 73) == std::pair<std::string, std::string>("...89ABCDEFGHIJKLMNOPQRSTUVWXYZ",
                                                                  std::string(29, ' ') + "^^"));
    CHECK(shown_at(37, 73).second.find('^') != std::string::npos);
    look.width = 0;
    CHECK(shown_at(37, 40).first == finding.excerpt);
}

TEST_CASE("text: an excerpt that begins within its line says so") {
    report::Report report = sample::plain();
    report.findings = {sample::cook()};
    report.findings[0].excerpt = "xyz Ra8# and more";
    report.findings[0].excerpt_column = 101;
    report.findings[0].begin = {5, 105};
    report.findings[0].end = {5, 109};
    CHECK(has_line(report::text(report), "     5 | ...xyz Ra8# and more"));
    CHECK(has_line(report::text(report), "       |        ^^^^"));
}

TEST_CASE("text: figurines stand where letters do") {
    report::Look look;
    look.men = report::Men::figurines;
    const std::string text = report::text(sample::plain(), look);
    CHECK(has_line(text, "    8  . : . : . : . \xE2\x99\x9A"));                       // black king
    CHECK(has_line(text, "    1  \xE2\x99\x96 . : \xE2\x99\x95 : . \xE2\x99\x94 .")); // rook, queen, king
}

TEST_CASE("text: with a limit the rest of a rule is counted, whatever else is quiet") {
    report::Report report = sample::plain();
    report.findings.assign(5, sample::cook());
    report.findings.push_back(sample::unreadable());
    report.findings[4].file = "sets/third.yaml";
    report::Look look = quiet();
    look.limit = 2;
    const std::string text = report::text(report, look);
    CHECK(has_line(text,
                   "Left out: 3 findings of rules with more than 2 (--limit 0 tells all, --format brief "
                   "each in a line, --rule switches a rule off)"));
    CHECK(has_line(text, "    rule         told  left out  in files"));
    CHECK(has_line(text, "    key/cook        2         3         2"));
    CHECK(text.find("file/syntax") != std::string::npos);
    CHECK(text.find("third.yaml") == std::string::npos);
    look.limit = 5;
    CHECK(report::text(report, look).find("Left out") == std::string::npos);
}

TEST_CASE("text: nothing found is said, and -q says nothing") {
    report::Report report = sample::plain();
    report.findings.clear();
    CHECK(report::text(report) ==
          "Checked 36 puzzles in 2 files (review effort): 0 errors, 0 warnings, 0 notes.\n");
    CHECK(report::text(report, quiet()).empty());
}

TEST_CASE("brief: first lines only, new ones first") {
    const auto lines = text_lines(report::brief(sample::compared()));
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

TEST_CASE("text: the command that corrects a finding") {
    report::Report report = sample::plain();
    CHECK(report::text(report).find("    fix ") == std::string::npos);
    report.findings[0].fix = rules::Fix{rules::Fix::Kind::safe, {{{3, 4}, "x"}}, {}};
    CHECK(report::text(report).find("\n    fix     sidelint fix\n") != std::string::npos);
    report.findings[0].fix->kind = rules::Fix::Kind::suggested;
    CHECK(report::text(report).find("\n    fix     sidelint fix --apply 00000000000000a1\n") !=
          std::string::npos);
}
