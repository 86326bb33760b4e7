#include "catch.hpp"

#include "report/escapers.hpp"

using report::Untrusted;
using report::Written;

namespace {

template <class Format, class T> constexpr bool takes = requires(Written<Format> page, const T& value) {
    page << value;
};

// A run-time string gets onto no page, whatever the format.
static_assert(!takes<report::Plain, std::string>);
static_assert(!takes<report::Plain, std::string_view>);
static_assert(!takes<report::Xml, std::string>);
static_assert(!takes<report::Html, std::string>);
static_assert(!takes<report::Markdown, std::string>);
static_assert(!takes<report::Command, std::string>);
// Nor does what is written in one format onto a page of another, or a property where none is known.
static_assert(!takes<report::Xml, Written<report::Plain>>);
static_assert(!takes<report::Markdown, report::Command::Property>);
// What gets there.
static_assert(takes<report::Plain, Untrusted>);
static_assert(takes<report::Xml, Written<report::Xml>>);
static_assert(takes<report::Command, report::Command::Property>);
static_assert(takes<report::Html, std::size_t>);

template <class Format> std::string escaped(std::string_view text) {
    Written<Format> page;
    page << Untrusted(text);
    return std::move(page).text();
}

} // namespace

TEST_CASE("written: literals and numbers as they are, the rest escaped") {
    Written<report::Xml> page;
    page << "<a n=\"" << std::size_t{12} << "\">" << Untrusted("<") << "</a>";
    page.times(2, "<b/>");
    CHECK(page.text() == "<a n=\"12\">&#60;</a><b/><b/>");
    CHECK(page.size() == page.text().size());
}

TEST_CASE("written: XML keeps what XML can hold") {
    CHECK(escaped<report::Xml>("Qd8# \xC3\xA4 a:b") == "Qd8# \xC3\xA4 a:b");
    CHECK(escaped<report::Xml>("<&>\"'") == "&#60;&#38;&#62;&#34;&#39;");
    CHECK(escaped<report::Xml>("]]>") == "]]&#62;");
    CHECK(escaped<report::Xml>("\t\r\n") == "&#9;&#13;&#10;");
    CHECK(escaped<report::Xml>("\x1b\x01") == "\xEF\xBF\xBD\xEF\xBF\xBD"); // no reference can stand for them
    CHECK(escaped<report::Xml>("\xEF\xBF\xBF") == "\xEF\xBF\xBD");         // U+FFFF
    CHECK(escaped<report::Xml>("\xFF") == "\xEF\xBF\xBD");
    CHECK(escaped<report::Xml>("\xE2\x80\xAE") == "&#8238;");
    CHECK(escaped<report::Xml>("##[x] ::y") == "#&#35;[x] :&#58;y");
}

TEST_CASE("written: HTML") {
    CHECK(escaped<report::Html>("<b a='\"'>&amp;") == "&#60;b a=&#39;&#34;&#39;&#62;&#38;amp;");
    CHECK(escaped<report::Html>("a\x1b\n") == "a\\u{1b}\\u{a}");
    CHECK(escaped<report::Html>("##[x]") == "#&#35;[x]");
}

TEST_CASE("written: Markdown") {
    CHECK(escaped<report::Markdown>("1.e4 e5 (2.Nf3), mate in 2") == "1.e4 e5 (2.Nf3), mate in 2");
    CHECK(escaped<report::Markdown>("a|b`c*d_e~f") == "a&#124;b&#96;c&#42;d&#95;e&#126;f");
    CHECK(escaped<report::Markdown>("a\r\nb") == "a  b");
    CHECK(escaped<report::Markdown>("Qd8# 1") == "Qd8&#35; 1");
    CHECK(escaped<report::Markdown>("@a #1") == "&#64;&#8288;a &#35;&#8288;1");
    CHECK(escaped<report::Markdown>("http://www.a") == "http&#58;//www&#46;a");
}

// What the runner undoes, in its order: %25 last (actions/runner, src/Runner.Common/ActionCommand.cs).
TEST_CASE("written: workflow commands") {
    CHECK(escaped<report::Command>("100% a: b, c") == "100%25 a: b, c");
    CHECK(escaped<report::Command>("%0A") == "%250A");
    CHECK(escaped<report::Command>("::error::") == ": :error::");
    Written<report::Command> page;
    page << report::Command::Property{Untrusted("a,b:c%\n")};
    CHECK(page.text() == "a%2Cb%3Ac%25\\u{a}");
}
