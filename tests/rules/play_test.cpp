// How values and lists are put into words.

#include "catch.hpp"
#include "rules/play.hpp"

namespace {

std::string text_of(int score, std::optional<int> mate_in, solve::ValueIs is) {
    solve::MoveVerdict verdict;
    verdict.value = {score, mate_in};
    verdict.value_is = is;
    return rules::value_text(verdict);
}

} // namespace

TEST_CASE("a value in words says whether it is a bound, and of a long mate too") {
    using solve::ValueIs;
    CHECK(text_of(314, std::nullopt, ValueIs::exact) == "+3.1");
    CHECK(text_of(-44, std::nullopt, ValueIs::exact) == "-0.4");
    CHECK(text_of(-4, std::nullopt, ValueIs::exact) == "0.0");
    CHECK(text_of(200, std::nullopt, ValueIs::at_least) == "at least +2.0");
    CHECK(text_of(200, std::nullopt, ValueIs::at_most) == "at most +2.0");
    CHECK(text_of(0, 3, ValueIs::exact) == "mate in 3");
    CHECK(text_of(0, 9, ValueIs::at_least) == "mate in at most 9");
    CHECK(text_of(0, -2, ValueIs::exact) == "mated in 2");
}

TEST_CASE("a list in words ends in what it leaves out") {
    const std::vector<std::string> parts{"a", "b", "c", "d"};
    CHECK(rules::listed({parts.begin(), parts.begin() + 1}, 3) == "a");
    CHECK(rules::listed({parts.begin(), parts.begin() + 2}, 3, "or") == "a or b");
    CHECK(rules::listed({parts.begin(), parts.begin() + 3}, 3) == "a, b and c");
    CHECK(rules::listed(parts, 3) == "a, b, c and 1 more");
}
