#include "catch.hpp"
#include "puzzles.hpp"

#include <fmt/format.h>

using namespace puzzles;
using rules::Finding;

namespace {

/// As a rule would say it about a puzzle of the document.
Finding finding(const collection::Document& document, std::size_t ordinal, const std::string& rule,
                const std::string& subject, const std::string& message_id = "message") {
    const collection::Puzzle& puzzle = document.puzzles.at(ordinal);
    Finding made;
    made.rule = rule;
    made.message_id = message_id;
    made.subject = subject;
    made.message = rule + " " + subject;
    made.puzzle = puzzle.id.value;
    made.file = document.path;
    made.span = puzzle.fen.span;
    made.begin = document.place(puzzle.fen.span.begin);
    return made;
}

Finding about_file(const collection::Document& document, const std::string& rule,
                   const std::string& subject) {
    Finding made;
    made.rule = rule;
    made.message_id = "message";
    made.subject = subject;
    made.file = document.path;
    return made;
}

/// "still key/cook Rh8+ at a.yaml/x, ...", in the order they come.
std::string told(const std::vector<Finding>& findings) {
    std::vector<std::string> parts;
    for (const Finding& one : findings) {
        parts.push_back(fmt::format("{} {} {} at {}{}{}", rules::name(one.status), one.rule, one.subject,
                                    one.file, one.puzzle.empty() ? "" : "/", one.puzzle));
    }
    return fmt::format("{}", fmt::join(parts, ", "));
}

std::string compared(const Documents& before, const std::vector<Finding>& findings_before,
                     const Documents& after, const std::vector<Finding>& findings_after) {
    return told(history::compare(findings_before, findings_after, history::pair_puzzles(before, after)));
}

} // namespace

TEST_CASE("one fault mended and another of the same rule added: one gone, one new") {
    const Documents before{yaml("a.yaml", {one("x")})};
    const Documents after{yaml("a.yaml", {{"x", "6k1/5ppp/8/8/8/8/5PPP/4R1K1 w - - 0 1", "1.Re8#", ""}})};
    CHECK(compared(
              before, {finding(before[0], 0, "key/cook", "Rh8+"), finding(before[0], 0, "key/cook", "Ra1")},
              after, {finding(after[0], 0, "key/cook", "Ra1"), finding(after[0], 0, "key/cook", "Qg7#")}) ==
          "new key/cook Qg7# at a.yaml/x, still key/cook Ra1 at a.yaml/x, gone key/cook Rh8+ at a.yaml/x");
}

TEST_CASE("equal findings are counted") {
    const Documents before{yaml("a.yaml", {one("x")})};
    const Finding dual = finding(before[0], 0, "line/dual", "Rd8");
    CHECK(compared(before, {dual}, before, {dual, dual}) ==
          "new line/dual Rd8 at a.yaml/x, still line/dual Rd8 at a.yaml/x");
    CHECK(compared(before, {dual, dual}, before, {dual}) ==
          "still line/dual Rd8 at a.yaml/x, gone line/dual Rd8 at a.yaml/x");
}

TEST_CASE("another message of the rule is another finding, another wording is not") {
    const Documents documents{yaml("a.yaml", {one("x")})};
    Finding reworded = finding(documents[0], 0, "key/cook", "Ra1");
    reworded.message = "said otherwise";
    reworded.severity = rules::Severity::note;
    reworded.begin = {70, 3};
    CHECK(compared(documents, {finding(documents[0], 0, "key/cook", "Ra1")}, documents, {reworded}) ==
          "still key/cook Ra1 at a.yaml/x");
    CHECK(compared(documents, {finding(documents[0], 0, "key/cook", "Ra1", "one")}, documents,
                   {finding(documents[0], 0, "key/cook", "Ra1", "two")}) ==
          "gone key/cook Ra1 at a.yaml/x, new key/cook Ra1 at a.yaml/x");
}

TEST_CASE("findings follow their puzzle") {
    const Documents before{yaml("a.yaml", {one("x"), two("y")}), yaml("b.yaml", {three("z")})};
    const std::vector<Finding> old{finding(before[0], 0, "key/cook", "Ra1"),
                                   finding(before[0], 1, "key/cook", "Ra1"),
                                   finding(before[1], 0, "key/open", "")};
    SECTION("through a change of order") {
        const Documents after{yaml("a.yaml", {two("y"), one("x")}), yaml("b.yaml", {three("z")})};
        CHECK(compared(before, old, after,
                       {finding(after[0], 0, "key/cook", "Ra1"), finding(after[0], 1, "key/cook", "Ra1"),
                        finding(after[1], 0, "key/open", "")}) ==
              "still key/cook Ra1 at a.yaml/y, still key/cook Ra1 at a.yaml/x, still key/open  at b.yaml/z");
    }
    SECTION("to another file, under another id, edited") {
        const Documents after{yaml("b.yaml", {three("z"), one("x")}),
                              yaml("c.yaml", {{"new", corner, "1.Qg7# {so}", ""}})};
        CHECK(
            compared(before, old, after,
                     {finding(after[0], 0, "key/open", ""), finding(after[0], 1, "key/cook", "Ra1"),
                      finding(after[1], 0, "key/cook", "Ra1")}) ==
            "still key/open  at b.yaml/z, still key/cook Ra1 at b.yaml/x, still key/cook Ra1 at c.yaml/new");
    }
    SECTION("when a puzzle without an id is pushed down") {
        const Documents nameless{yaml("a.yaml", {one(""), two("")})};
        const Documents after{yaml("a.yaml", {three(""), one(""), two("")})};
        CHECK(compared(nameless, {finding(nameless[0], 1, "key/cook", "Ra1")}, after,
                       {finding(after[0], 0, "key/cook", "Ra1"), finding(after[0], 2, "key/cook", "Ra1")}) ==
              "new key/cook Ra1 at a.yaml/a.yaml#1, still key/cook Ra1 at a.yaml/a.yaml#3");
    }
    SECTION("and a removed puzzle takes its findings along") {
        const Documents after{yaml("a.yaml", {two("y")}), yaml("b.yaml", {three("z")})};
        CHECK(compared(before, old, after,
                       {finding(after[0], 0, "key/cook", "Ra1"), finding(after[1], 0, "key/open", "")}) ==
              "gone key/cook Ra1 at a.yaml/x, still key/cook Ra1 at a.yaml/y, still key/open  at b.yaml/z");
    }
}

TEST_CASE("a copied fault is new") {
    const Documents before{yaml("a.yaml", {one("x")})};
    const Documents after{yaml("a.yaml", {one("x"), one("copy")})};
    CHECK(compared(before, {finding(before[0], 0, "key/cook", "Ra1")}, after,
                   {finding(after[0], 0, "key/cook", "Ra1"), finding(after[0], 1, "key/cook", "Ra1")}) ==
          "still key/cook Ra1 at a.yaml/x, new key/cook Ra1 at a.yaml/copy");
    // Also one that takes the id along, in a file that comes first.
    const Documents twice{yaml("A.yaml", {one("x")}), yaml("a.yaml", {one("x")})};
    CHECK(compared(before, {finding(before[0], 0, "key/cook", "Ra1")}, twice,
                   {finding(twice[0], 0, "key/cook", "Ra1"), finding(twice[1], 0, "key/cook", "Ra1")}) ==
          "new key/cook Ra1 at A.yaml/x, still key/cook Ra1 at a.yaml/x");
}

TEST_CASE("puzzles of one id in one file keep their own findings") {
    const Documents before{yaml("a.yaml", {one("x"), two("x")})};
    const Documents after{yaml("a.yaml", {two("x"), one("x")})};
    CHECK(compared(before, {finding(before[0], 1, "key/cook", "Ra1")}, after,
                   {finding(after[0], 0, "key/cook", "Ra1")}) == "still key/cook Ra1 at a.yaml/x");
    CHECK(compared(before, {finding(before[0], 1, "key/cook", "Ra1")}, after,
                   {finding(after[0], 1, "key/cook", "Ra1")}) ==
          "new key/cook Ra1 at a.yaml/x, gone key/cook Ra1 at a.yaml/x");
}

TEST_CASE("findings in files that did not change need no pairs") {
    const Documents unchanged{yaml("a.yaml", {one("x")})};
    const Finding cook = finding(unchanged[0], 0, "key/cook", "Ra1");
    CHECK(compared({}, {cook}, {}, {cook}) == "still key/cook Ra1 at a.yaml/x");
    CHECK(compared({}, {cook}, {}, {finding(unchanged[0], 0, "key/cook", "Ra2")}) ==
          "gone key/cook Ra1 at a.yaml/x, new key/cook Ra2 at a.yaml/x");
}

TEST_CASE("findings about a file go by its name, and along when it is renamed") {
    const Documents before{yaml("a.yaml", {one("x"), two("y")})};
    const Documents renamed{yaml("b.yaml", {one("x"), two("y")})};
    const Documents split{yaml("a.yaml", {one("x")}), yaml("b.yaml", {two("y")})};
    const std::vector<Finding> old{about_file(before[0], "file/encoding", "")};
    CHECK(compared(before, old, before, old) == "still file/encoding  at a.yaml");
    CHECK(compared(before, old, renamed, {about_file(renamed[0], "file/encoding", "")}) ==
          "still file/encoding  at b.yaml");
    CHECK(compared(before, old, split,
                   {about_file(split[0], "file/encoding", ""), about_file(split[1], "file/encoding", "")}) ==
          "still file/encoding  at a.yaml, new file/encoding  at b.yaml");
    CHECK(compared(before, old, before, {about_file(before[0], "file/syntax", "")}) ==
          "gone file/encoding  at a.yaml, new file/syntax  at a.yaml");
}

TEST_CASE("what is said about two puzzles is new when either is") {
    const std::string rule = "set/duplicate-position";
    const Documents before{yaml("a.yaml", {one("x"), one("y"), two("z")})};
    const std::vector<Finding> old{finding(before[0], 1, rule, "x")};
    SECTION("unchanged") {
        CHECK(compared(before, old, before, old) == "still set/duplicate-position x at a.yaml/y");
    }
    SECTION("another copy") {
        const Documents after{yaml("a.yaml", {one("x"), one("y"), two("z"), one("w")})};
        CHECK(compared(before, old, after,
                       {finding(after[0], 1, rule, "x"), finding(after[0], 3, rule, "x")}) ==
              "still set/duplicate-position x at a.yaml/y, new set/duplicate-position x at a.yaml/w");
    }
    SECTION("an old puzzle blamed for a new one") {
        const Documents after{yaml("a.yaml", {one("x"), one("y"), two("w"), two("z")})};
        CHECK(compared(before, old, after,
                       {finding(after[0], 1, rule, "x"), finding(after[0], 3, rule, "w")}) ==
              "still set/duplicate-position x at a.yaml/y, new set/duplicate-position w at a.yaml/z");
    }
    SECTION("the other way round after a change of order") {
        const Documents after{yaml("a.yaml", {one("y"), two("z"), one("x")})};
        CHECK(compared(before, old, after, {finding(after[0], 2, rule, "y")}) ==
              "still set/duplicate-position y at a.yaml/x");
    }
    SECTION("under another id") {
        const Documents after{yaml("a.yaml", {one("first"), one("y"), two("z")})};
        CHECK(compared(before, old, after, {finding(after[0], 1, rule, "first")}) ==
              "still set/duplicate-position first at a.yaml/y");
    }
    SECTION("mended") {
        const Documents after{yaml("a.yaml", {one("x"), two("z")})};
        CHECK(compared(before, old, after, {}) == "gone set/duplicate-position x at a.yaml/y");
    }
    SECTION("three of a kind in another order") {
        const Documents three{yaml("a.yaml", {one("x"), one("y"), one("z")})};
        const Documents after{yaml("a.yaml", {one("z"), one("x"), one("y")})};
        CHECK(compared(three, {finding(three[0], 1, rule, "x"), finding(three[0], 2, rule, "x")}, after,
                       {finding(after[0], 1, rule, "z"), finding(after[0], 2, rule, "z")}) ==
              "still set/duplicate-position z at a.yaml/x, still set/duplicate-position z at a.yaml/y");
    }
}

TEST_CASE("two puzzles of one id: still after a change of order, new for a copy") {
    const std::string rule = "set/duplicate-id";
    const Documents before{yaml("a.yaml", {one("x"), two("x")})};
    const std::vector<Finding> old{finding(before[0], 1, rule, "x")};
    const Documents turned{yaml("a.yaml", {two("x"), one("x")})};
    CHECK(compared(before, old, turned, {finding(turned[0], 1, rule, "x")}) ==
          "still set/duplicate-id x at a.yaml/x");
    const Documents third{yaml("a.yaml", {one("x"), two("x"), three("x")})};
    CHECK(compared(before, old, third, {finding(third[0], 1, rule, "x"), finding(third[0], 2, rule, "x")}) ==
          "still set/duplicate-id x at a.yaml/x, new set/duplicate-id x at a.yaml/x");
    const Documents single{yaml("a.yaml", {one("x")})};
    CHECK(compared(single, {}, before, old) == "new set/duplicate-id x at a.yaml/x");
    // A new puzzle ahead makes the old one the blamed one: the pair is new all the same.
    const Documents ahead{yaml("a.yaml", {three("x"), one("x")})};
    CHECK(compared(single, {}, ahead, {finding(ahead[0], 1, rule, "x")}) ==
          "new set/duplicate-id x at a.yaml/x");
}

TEST_CASE("the order is that of the places, whatever the order of the input") {
    const Documents documents{yaml("a.yaml", {one("x"), two("y")}), yaml("b.yaml", {three("z")})};
    const Finding first = finding(documents[0], 0, "key/cook", "Ra1");
    const Finding second = finding(documents[0], 1, "key/cook", "Ra1");
    const Finding third = finding(documents[1], 0, "key/cook", "Ra1");
    const std::string expected =
        "still key/cook Ra1 at a.yaml/x, gone key/cook Ra1 at a.yaml/y, new key/cook Ra1 at b.yaml/z";
    CHECK(compared(documents, {first, second}, documents, {third, first}) == expected);
    CHECK(compared(documents, {second, first}, documents, {first, third}) == expected);
}
