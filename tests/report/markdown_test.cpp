#include "catch.hpp"
#include "holds.hpp"
#include "outside.hpp"
#include "sample.hpp"

#include <algorithm>

namespace {

std::size_t count(const std::string& text, const std::string& part) {
    std::size_t found = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) {
        ++found;
    }
    return found;
}

/// A text as a reader of the page sees it: HTML's own escapes undone, word joiners left out.
std::string seen(std::string html) {
    const std::vector<std::pair<std::string, std::string>> escapes{
        {"\xE2\x81\xA0", ""}, {"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&amp;", "&"}};
    for (const auto& [from, to] : escapes) {
        for (std::size_t at = html.find(from); at != std::string::npos;
             at = html.find(from, at + to.size())) {
            html.replace(at, from.size(), to);
        }
    }
    return html;
}

report::Report many(std::size_t findings) {
    report::Report report = sample::plain();
    report.findings.assign(findings, sample::cook());
    return report;
}

} // namespace

TEST_CASE("markdown: counts, then what is new, the rest folded away") {
    const std::string written = report::markdown(sample::mixed());
    CHECK(written.starts_with(
        "## sidelint: 2 errors, 2 warnings, 1 note\n\n5 puzzles checked in 3 files (review effort)."
        " Against <code>HEAD&#126;1</code>: 3 new, 2 still there, 1 gone; 30 puzzles unchanged."));
    const std::size_t fresh = written.find("### New: 3");
    const std::size_t still = written.find("<details><summary>Still there: 2</summary>");
    const std::size_t gone = written.find("<details><summary>Gone: 1</summary>");
    REQUIRE(gone != std::string::npos);
    CHECK(fresh < still);
    CHECK(still < gone);
    CHECK(count(written, "<details>") == count(written, "</details>"));
    CHECK(holds(written, "- sets/old.pgn&#58; a link, left out\n"));
    CHECK(holds(report::markdown(sample::plain()), "### Findings: 2\n"));
    CHECK_FALSE(holds(report::markdown(report::Report()), "###"));
}

TEST_CASE("markdown: another reader sees a table, a row a finding") {
    const std::string html = outside::html_of(report::markdown(sample::mixed()));
    CHECK(count(html, "<table>") == 3);
    CHECK(count(html, "<tr>") == 3 + 6);
    CHECK(count(html, "<td>") == 6 * 5);
    CHECK(holds(html, "<td><code>sets/first term.yaml:5:14</code></td>\n<td><code>harbour-001</code></td>\n"
                      "<td><code>key/cook</code></td>\n<td>Qd8# solves it as well as the key Ra8# (searched)"
                      "<br><code>1.Qd8#</code></td>"));
    CHECK(holds(html, "H\xC3\xA4"
                      "fen 7"));
}

TEST_CASE("markdown: hostile text is seen as text, without a link, a mention or markup") {
    const std::string html = outside::html_of(report::markdown(sample::hostile()));
    CHECK(count(html, "<td>") == 5);
    CHECK_FALSE(holds(html, "<a "));
    CHECK_FALSE(holds(html, "<script"));
    CHECK_FALSE(holds(html, "<strong>"));
    CHECK_FALSE(holds(html, "@someone"));
    CHECK_FALSE(holds(html, "#123"));
    std::string wanted =
        "::error::a ##[set-output]b ##vso[task]c section_start:1:x \\u{1b}[2Jd  ::warning::e \\u{202e}"
        "f \xEF\xBF\xBDg \\u{9b}h ]]> <script>i()</script> &amp; | \"quoted\" 'too' %0A%25 @someone #123 "
        "[link](http://example.org) www.example.org `code` **bold** \\| j";
    CHECK(count(seen(html), wanted) == 7); // place, puzzle, rule, message, play; revision; remark
}

TEST_CASE("markdown: never longer than allowed, cut between rows, and the rest is counted") {
    const report::Report report = many(200);
    const std::string all = report::markdown(report);
    CHECK_FALSE(holds(all, "left out"));
    constexpr std::size_t most = 8000;
    const std::string cut = report::markdown(report, most);
    CHECK(cut.size() <= most);
    CHECK(cut.size() > most / 2);
    const std::size_t rows = count(cut, "| error |");
    CHECK(rows > 10);
    CHECK(holds(cut, "**" + std::to_string(200 - rows) + " rows left out**"));
    CHECK(count(outside::html_of(cut), "<td>") == 5 * rows);
    const std::string big = report::markdown(many(20'000));
    CHECK(big.size() <= 900 * 1024);
    CHECK(big.size() > 890 * 1024);
}

TEST_CASE("markdown: what is cut is the least of it, and what stays stands in order of place") {
    report::Report report = many(200);
    for (std::size_t i = 0; i < report.findings.size(); ++i) {
        report.findings[i].severity = i % 40 == 9 ? rules::Severity::error : rules::Severity::note;
        report.findings[i].begin.line = i + 1;
    }
    const std::string cut = report::markdown(report, 8000);
    CHECK(count(cut, "| error |") == 5);
    CHECK(count(cut, "| note |") > 5);
    const std::string shown = seen(outside::html_of(cut));
    const auto place = [&](int line) { return shown.find(":" + std::to_string(line) + ":"); };
    CHECK(place(9) < place(10)); // a note, an error, a note
    CHECK(place(10) < place(11));
    CHECK(place(11) < place(50));
    CHECK(place(169) == std::string::npos);
    CHECK(place(170) != std::string::npos);
}

TEST_CASE("markdown: at the limit the counts and the overview are whole, and no table is empty") {
    report::Report report = many(20'000);
    for (std::size_t i = 0; i < report.findings.size(); ++i) {
        report.findings[i].status = i < 100      ? rules::Status::fresh
                                    : i < 15'000 ? rules::Status::still
                                                 : rules::Status::gone;
    }
    report.overview = true;
    report.summaries.assign(50, sample::puzzle("p", "a.yaml", 1));
    const std::string cut = report::markdown(report);
    CHECK(cut.size() <= 900 * 1024);
    CHECK(cut.size() > 890 * 1024);
    const std::string html = outside::html_of(cut);
    CHECK(count(html, "<details>") == 3);
    CHECK(count(html, "</details>") == 3);
    CHECK(count(html, "<table>") == 2 + 5); // nobody's motif is known
    CHECK(count(html, "<tbody>") == 2 + 5);
    CHECK(holds(html, "<summary>Gone: 5000</summary>\n<p>Left out.</p>"));
    CHECK(holds(html, "<td>a.yaml</td>\n<td align=\"right\">50</td>"));
    const std::size_t rows = count(cut, "| error |");
    CHECK(holds(cut, "**" + std::to_string(20'000 - rows) + " rows left out**"));
    report.summaries.clear();
    for (int i = 0; i < 20'000; ++i) {
        report.summaries.push_back(sample::puzzle("p", "chapters/" + std::to_string(i) + ".yaml", 1));
    }
    const std::string chapters = report::markdown(report);
    CHECK(chapters.size() <= 900 * 1024);
    const std::string tables = outside::html_of(chapters);
    CHECK(count(tables, "<td>chapters/") > 1000);
    CHECK(count(tables, "<tbody>") == 2 + 5);
    CHECK(holds(tables, "<td>not judged</td>"));
}
