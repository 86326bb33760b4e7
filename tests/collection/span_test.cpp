#include "collection/source.hpp"
#include "collection/text.hpp"
#include "reading.hpp"

using namespace collection;

TEST_CASE("LF, CRLF, lone CR and a missing last line end give the same places") {
    for (const std::string end : {"\n", "\r\n", "\r"}) {
        const std::string text = "ab" + end + end + "cd" + end + "e";
        const LineIndex lines(text);
        INFO(end.size());
        CHECK(lines.line_count() == 4);
        CHECK(lines.place(text, 1) == Place{1, 2});
        CHECK(lines.place(text, 2 + end.size()) == Place{2, 1});
        CHECK(lines.place(text, text.find('d')) == Place{3, 2});
        CHECK(lines.place(text, text.find('e')) == Place{4, 1});
        CHECK(lines.place(text, 999) == Place{4, 2});
        CHECK(lines.line(text, 3) == "cd");
        CHECK(lines.line(text, 4) == "e");
        CHECK(lines.line(text, 5).empty());
        CHECK(lines.line(text, 0).empty());
    }
}

TEST_CASE("a column is a code point, a broken byte one, a byte order mark none") {
    const std::string text = "\xef\xbb\xbf"
                             "\xc3\xa9\xe4x\xf0\x9f\x98\x80z";
    const LineIndex lines(text);
    CHECK(lines.place(text, 0) == Place{1, 1});
    CHECK(lines.place(text, 3) == Place{1, 1});
    CHECK(lines.place(text, 5) == Place{1, 2});
    CHECK(lines.place(text, 6) == Place{1, 3});
    CHECK(lines.place(text, 7) == Place{1, 4});
    CHECK(lines.place(text, 9) == Place{1, 4}); // inside a character: its own column
    CHECK(lines.place(text, 11) == Place{1, 5});
}

TEST_CASE("places are right in a file of many lines") {
    std::string text;
    for (int i = 1; i <= 1000; ++i) {
        text += std::string(static_cast<std::size_t>(i % 7), 'x') + "\n";
    }
    const LineIndex lines(text);
    CHECK(lines.line_count() == 1001);
    std::size_t at = 0;
    for (std::size_t i = 1; i <= 1000; ++i) {
        REQUIRE(lines.place(text, at) == Place{i, 1});
        REQUIRE(lines.line(text, i).size() == i % 7);
        at += i % 7 + 1;
    }
    CHECK(lines.place(text, at) == Place{1001, 1});
}

TEST_CASE("an index of nothing has one place") {
    CHECK(LineIndex("").place("", 0) == Place{1, 1});
    CHECK(LineIndex("").line_count() == 1);
    CHECK(LineIndex().place("", 5) == Place{1, 1});
}

TEST_CASE("UTF-8 passes through, other bytes are read as Latin-1") {
    CHECK(to_utf8("caf\xc3\xa9") == "caf\xc3\xa9");
    CHECK(to_utf8("caf\xe9") == "caf\xc3\xa9");
    CHECK(to_utf8("\xb1") == "\xc2\xb1");
    CHECK(to_utf8("B\x81"
                  "cker") == "B\xef\xbf\xbd"
                             "cker"); // Latin-1 has no sign there
    for (const std::string broken :
         {"\xc0\x80", "\xed\xa0\x80", "\xf4\x90\x80\x80", "\xe2\x82", "\xf8", "\xe0\x80\x80"}) {
        CHECK_FALSE(is_utf8(broken));
        CHECK(is_utf8(to_utf8(broken)));
    }
}

TEST_CASE("a mapped text says where its parts stand") {
    MappedText mapped;
    mapped.span = {10, 20};
    mapped.append("ab", 11);
    mapped.append("\"", 13);
    mapped.append("cd", 15);
    const Source source(mapped);
    CHECK(mapped.pieces.size() == 2); // what continues is no piece of its own
    CHECK(source.span(0, 2) == Span{11, 13});
    CHECK(source.span(3, 5) == Span{15, 17});
    CHECK(source.part(1, 4).span() == Span{12, 16});
    CHECK(source.part(3, 5).part(1, 2).span() == Span{16, 17});
    mapped.pieces.clear();
    CHECK(Source(mapped).part(1, 2).span() == Span{10, 20});
}

TEST_CASE("splitting leaves out what is empty and keeps places") {
    const std::string text = " fork , , back-rank mate,";
    const auto parts = split(Source(text, {0, text.size()}), ",");
    REQUIRE(parts.size() == 2);
    CHECK(parts[1].text() == "back-rank mate");
    CHECK(parts[1].span() == Span{10, 24});
    CHECK(split_at(Source(text, {0, text.size()}), "").size() == 1);
    CHECK(split_at(Source("a||b", {0, 4}), "||").size() == 2);
}
