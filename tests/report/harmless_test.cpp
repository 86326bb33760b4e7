#include "catch.hpp"
#include "sample.hpp"

#include <sstream>

using report::harmless;

TEST_CASE("harmless: good text passes") {
    CHECK(harmless("Qd8# \xC3\xA4\xE6\xA3\x8B\xF0\x9F\x90\xB4 1.e4!? {a: b} ::") ==
          "Qd8# \xC3\xA4\xE6\xA3\x8B\xF0\x9F\x90\xB4 1.e4!? {a: b} ::");
    CHECK(harmless("").empty());
}

TEST_CASE("harmless: characters that act on a terminal are spelt out") {
    CHECK(harmless("\x1b[2J") == "\\u{1b}[2J");
    CHECK(harmless(std::string_view("\0", 1)) == "\\u{0}");
    CHECK(harmless("a\r\nb\tc\x7F") == "a\\u{d}\\u{a}b\\u{9}c\\u{7f}");
    CHECK(harmless("\xC2\x9B"
                   "31m") == "\\u{9b}31m");
    CHECK(harmless("\xD8\x9C") == "\\u{61c}");
    CHECK(harmless("\xE2\x80\x8E\xE2\x80\x8F") == "\\u{200e}\\u{200f}");
    CHECK(harmless("\xE2\x80\xA8\xE2\x80\xA9\xE2\x80\xAA\xE2\x80\xAE") ==
          "\\u{2028}\\u{2029}\\u{202a}\\u{202e}");
    CHECK(harmless("\xE2\x81\xA6\xE2\x81\xA9") == "\\u{2066}\\u{2069}");
    CHECK(harmless("\xF3\xA0\x81\xA1") == "\\u{e0061}");
}

// Well-formed sequences: the Unicode Standard, table 3-7.
TEST_CASE("harmless: what is no UTF-8 becomes U+FFFD") {
    const std::string replacement = "\xEF\xBF\xBD";
    CHECK(harmless("\xFF") == replacement);
    CHECK(harmless("\x80"
                   "a") == replacement + "a");
    CHECK(harmless("\xC0\xAF") == replacement + replacement);        // overlong
    CHECK(harmless("\xE0\x80\xAF").substr(0, 3) == replacement);     // overlong
    CHECK(harmless("\xED\xA0\x80").substr(0, 3) == replacement);     // surrogate
    CHECK(harmless("\xF4\x90\x80\x80").substr(0, 3) == replacement); // past U+10FFFF
    CHECK(harmless("a\xE2\x82") == "a" + replacement + replacement); // cut off
    CHECK(harmless("\xF4\x8F\xBF\xBF") == "\xF4\x8F\xBF\xBF");       // the last code point
}

TEST_CASE("harmless: marks that CI runners obey are broken") {
    CHECK(harmless("::error::x") == ": :error::x");
    CHECK(harmless("   ::error::x") == "   : :error::x");
    CHECK(harmless("a ::error::x") == "a ::error::x");
    CHECK(harmless("a ##[group]") == "a # #[group]");
    CHECK(harmless("###[group]##[x]") == "## #[group]# #[x]");
    CHECK(harmless("##vso[task.x]") == "# #vso[task.x]");
    CHECK(harmless("section_start:1:x") == "section_start :1:x");
}

TEST_CASE("hostile text stays text in every format") {
    const report::Report hostile = sample::hostile();
    const std::string written =
        GENERATE_REF(report::text(hostile), report::brief(hostile), report::json(hostile));
    CHECK(written.find('\x1b') == std::string::npos);
    CHECK(written.find('\r') == std::string::npos);
    CHECK(written.find("##[") == std::string::npos);
    CHECK(written.find("##vso[") == std::string::npos);
    CHECK(written.find('\xFF') == std::string::npos);
    CHECK(written.find("\xE2\x80\xAE") == std::string::npos);
    CHECK(written.find("\xC2\x9B") == std::string::npos);
    std::istringstream lines(written);
    for (std::string line; std::getline(lines, line);) {
        const std::size_t start = line.find_first_not_of(" \t");
        CHECK((start == std::string::npos || line.compare(start, 2, "::") != 0));
    }
}
