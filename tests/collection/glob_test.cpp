#include "reading.hpp"

using collection::glob_matches;

TEST_CASE("globs") {
    CHECK(glob_matches("*.csv", "sets/a.csv"));
    CHECK(glob_matches("*.csv", "a.csv"));
    CHECK_FALSE(glob_matches("*.csv", "a.csv.txt"));
    CHECK_FALSE(glob_matches("*.csv", "a.CSV"));
    CHECK(glob_matches("sets/*.csv", "sets/a.csv"));
    CHECK_FALSE(glob_matches("sets/*.csv", "sets/deep/a.csv"));
    CHECK_FALSE(glob_matches("sets/*.csv", "more/sets/a.csv"));
    CHECK(glob_matches("sets/**", "sets/deep/a.csv"));
    CHECK(glob_matches("sets/**/*.csv", "sets/a.csv"));
    CHECK(glob_matches("sets/**/*.csv", "sets/x/y/a.csv"));
    CHECK_FALSE(glob_matches("sets/**/a.csv", "sets/x/ya.csv"));
    CHECK(glob_matches("**/a.csv", "a.csv"));
    CHECK(glob_matches("**/a.csv", "x/y/a.csv"));
    CHECK(glob_matches("**", "x/y"));
    CHECK(glob_matches("/a.csv", "a.csv"));
    CHECK_FALSE(glob_matches("/a.csv", "x/a.csv"));
    CHECK(glob_matches("?.csv", "\xc3\xa9.csv"));
    CHECK_FALSE(glob_matches("?.csv", ".csv"));
    CHECK_FALSE(glob_matches("a?b/c", "a/b/c"));
    CHECK_FALSE(glob_matches("", "a"));
    CHECK(glob_matches("[a].csv", "[a].csv")); // no classes: brackets are themselves
}

TEST_CASE("no pattern makes a match slow") {
    std::string pattern;
    for (int i = 0; i < 200; ++i) {
        pattern += "**/*a";
    }
    CHECK_FALSE(glob_matches(pattern + "/b", std::string(5000, 'a')));
    std::string parts;
    for (int i = 0; i < 5000; ++i) {
        parts += "**/";
    }
    CHECK(glob_matches(parts + "x", "x"));
}
