// A change in words: men by square, moves by number.
#include "catch.hpp"
#include "history/describe.hpp"
#include "puzzles.hpp"

#include "board/fen.hpp"

using puzzles::back_rank;

namespace {

using Words = std::vector<std::string>;

Words between(const std::string& before, const std::string& after) {
    return history::describe_position(board::read_fen(before).setup, board::read_fen(after).setup);
}

collection::Document document(const std::string& fen, const std::string& solution,
                              const std::string& more = "") {
    return collection::read(
        "a.yaml",
        "puzzles:\n  - id: a\n    fen: \"" + fen + "\"\n    solution: \"" + solution + "\"\n" + more, {});
}

const std::string seventh = "1k6/1p6/7R/8/5K2/4Q3/8/8 w - - 0 1";

Words solutions(const std::string& before, const std::string& after) {
    return history::describe_solution(document(seventh, before).puzzles[0],
                                      document(seventh, after).puzzles[0]);
}

} // namespace

TEST_CASE("describe: men that moved, are gone, new, or another's") {
    CHECK(between(back_rank, back_rank).empty());
    CHECK(between(back_rank, "6k1/5ppp/8/8/8/8/5PPP/4R1K1 w - - 0 1") == Words{"white rook d1 to e1"});
    CHECK(between(back_rank, "6k1/5pp1/8/8/8/8/5PPP/3R2K1 w - - 0 1") == Words{"black pawn h7 gone"});
    CHECK(between("6k1/5pp1/8/8/8/8/5PPP/3R2K1 w - - 0 1", back_rank) == Words{"black pawn h7 new"});
    CHECK(between(back_rank, "6k1/5ppp/8/8/8/8/5PPP/3Q2K1 w - - 0 1") ==
          Words{"white queen instead of white rook on d1"});
    CHECK(between(back_rank, "7k/5ppp/8/8/8/6P1/5P1P/4R1K1 w - - 0 1") ==
          Words{"white rook d1 to e1", "white pawn g2 to g3", "black king g8 to h8"});
}

TEST_CASE("describe: of two men of a kind the nearest moved") {
    CHECK(between("6k1/8/8/8/8/8/8/R5KR w - - 0 1", "6k1/8/8/8/8/8/R7/6K1 w - - 0 1") ==
          Words{"white rook a1 to a2", "white rook h1 gone"});
}

TEST_CASE("describe: the fields beside the men") {
    CHECK(between("4k3/8/8/3pP3/8/8/8/R3K3 w Q d6 0 1", "4k3/8/8/3pP3/8/8/8/R3K3 b - - 0 1") ==
          Words{"black to move instead of white", "castling none instead of Q",
                "en passant none instead of d6"});
}

TEST_CASE("describe: another diagram is not told man by man") {
    const Words words =
        between("rnbqkbnr/pppppppp/8/8/8/8/8/K7 w - - 0 1", "8/8/8/8/7k/8/PPPPPPPP/RNBQ1BNR w - - 0 1");
    REQUIRE(words.size() == 1);
    CHECK(words[0].starts_with("another diagram: "));
}

TEST_CASE("describe: the main line from where it parts") {
    CHECK(solutions("1.Rh7 Ka8 2.Rh8#", "1.Rh7 b5 2.Qe8#") ==
          Words{"main line 1...b5 2.Qe8# instead of 1...Ka8 2.Rh8#"});
    CHECK(solutions("1.Rh7 Ka8 2.Rh8#", "1.Rh7") == Words{"the main line ends before 1...Ka8 2.Rh8#"});
    CHECK(solutions("1.Rh7", "1.Rh7 Ka8 2.Rh8#") == Words{"the main line goes on with 1...Ka8 2.Rh8#"});
    CHECK(solutions("1.Rh7", "1.Qb6") == Words{"key Qb6 instead of Rh7", "main line 1.Qb6 instead of 1.Rh7"});
}

TEST_CASE("describe: variations, marks and comments") {
    CHECK(solutions("1.Rh7 Ka8 2.Rh8#", "1.Rh7! Ka8 (1...b5 2.Qe8#) 2.Rh8# {so it ends}") ==
          Words{"variation 1.Rh7 b5 2.Qe8# new", "! instead of no mark after 1.Rh7",
                "comment after 1.Rh7 Ka8 2.Rh8#: so it ends"});
    CHECK(solutions("1.Rh7 Ka8 (1...b5 2.Qe8#) 2.Rh8# {x}", "1.Rh7 Ka8 2.Rh8#") ==
          Words{"variation 1.Rh7 b5 2.Qe8# gone", "comment after 1.Rh7 Ka8 2.Rh8# dropped"});
}

TEST_CASE("describe: by field, and moves that no longer fit") {
    const auto before =
        std::vector{document(back_rank, "1.Rd8#", "    themes: [fork, pin]\n    goal: win\n")};
    const auto after =
        std::vector{document("6k1/5ppp/8/8/8/8/5PPP/4R1K1 w - - 0 1", "1.Rd8#",
                             "    themes: [pin, skewer]\n    goal: mate in 1\n    source: x\n")};
    const auto pairs = history::pair_puzzles(before, after);
    REQUIRE(pairs.size() == 1);
    std::string told;
    for (const history::FieldChange& change : history::describe(pairs[0])) {
        for (const std::string& words : change.words) {
            told += change.field + ": " + words + "\n";
        }
    }
    CHECK(told == "position: white rook d1 to e1\n"
                  "goal: mate in 1 instead of win\n"
                  "solution: the same moves no longer fit the position\n"
                  "themes: skewer added\n"
                  "themes: fork dropped\n"
                  "source: x added\n");
}

TEST_CASE("describe: notation alone, and a puzzle in short") {
    const auto before = std::vector{document(back_rank, "1.Rd8")};
    const auto after = std::vector{document(back_rank, "1.Rd8#")};
    const auto changes = history::describe(history::pair_puzzles(before, after)[0]);
    REQUIRE(changes.size() == 1);
    CHECK(changes[0].words == Words{"Rd8# instead of Rd8"});
    CHECK(history::in_short(
              document(back_rank, "1.Rd8#", "    goal: mate in 1\n    themes: [a, b]\n").puzzles[0]) ==
          "white to move; mate in 1; 1.Rd8#; themes a, b");
}
