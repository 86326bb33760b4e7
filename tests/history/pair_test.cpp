#include "catch.hpp"
#include "puzzles.hpp"

#include "history/rising.hpp"

using namespace puzzles;

TEST_CASE("the same collection twice") {
    const Documents documents{yaml("a.yaml", {one("a"), two("b"), three("")})};
    CHECK(paired(documents, documents) == "a same, b same, a.yaml#3 same");
    CHECK(paired({}, documents) == "+a, +b, +a.yaml#3");
    CHECK(paired(documents, {}) == "-a, -b, -a.yaml#3");
    CHECK(paired({}, {}).empty());
}

TEST_CASE("the pairs point into both states") {
    const Documents before{yaml("a.yaml", {one("a")})};
    const Documents after{yaml("b.yaml", {two("b"), one("a")})};
    const auto pairs = history::pair_puzzles(before, after);
    REQUIRE(pairs.size() == 2);
    CHECK(pairs[1].before.document == &before[0]);
    CHECK(pairs[1].before.puzzle == &before[0].puzzles[0]);
    CHECK(pairs[1].after.puzzle == &after[0].puzzles[1]);
}

TEST_CASE("each field is told by name") {
    const auto changed = [](const Puzzle& before, const Puzzle& after) {
        return paired({yaml("a.yaml", {before})}, {yaml("a.yaml", {after})});
    };
    Puzzle a = one("a");
    const auto with = [&a](const std::string& more) {
        Puzzle puzzle = a;
        puzzle.more = more;
        return puzzle;
    };
    CHECK(changed(a, two("a")) == "a changed (position, solution, notation)");
    CHECK(changed(a, {"a", "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 4 20", "1.Rd8#", ""}) ==
          "a changed (counters)");
    CHECK(changed(a, {"a", "6k1/5ppp/8/8/8/8/5PPP/3R2K1 b - - 0 1", "1.Rd8#", ""})
              .starts_with("a changed (position"));
    CHECK(changed(a, with("goal: mate in 1")) == "a changed (goal)");
    CHECK(changed(with("goal: win"), with("goal: mate in 1")) == "a changed (goal)");
    CHECK(changed(a, with("to-move: white")) == "a changed (side)");
    CHECK(changed(a, with("accept: [Rd7]")) == "a changed (accepted)");
    CHECK(changed(a, with("themes: [back-rank mate]")) == "a changed (themes)");
    CHECK(changed(a, with("allow: [{rule: theme/missing, why: later}]")) == "a changed (allowances)");
    CHECK(changed(a, with("source: a friend")) == "a changed (source)");
    CHECK(changed(with("composer: he"), with("composer: she")) == "a changed (composer)");
    CHECK(changed(a, one("b")) == "b<a changed (id)");
    CHECK(changed(a, one("")) == "a.yaml#1<a changed (id)");
    CHECK(changed(a, {"a", back_rank, "1.Rd8# {mate}", ""}) == "a changed (solution)");
    CHECK(changed(a, {"a", back_rank, "1.Rd8#!", ""}) == "a changed (solution)");
    CHECK(changed(a, {"a", back_rank, "1.Rd8# (1.Rd7?)", ""}) == "a changed (solution, notation)");
    CHECK(changed(a, {"a", back_rank, "1.Rd8", ""}) == "a changed (notation)");
    CHECK(changed(a, {"a", back_rank, "1.Rd8# 1-0", ""}) == "a changed (result)");
}

TEST_CASE("a variation is another solution than the same moves in a row") {
    const auto solution = [](const char* moves) { return yaml("a.yaml", {{"a", opposition, moves, ""}}); };
    CHECK(paired({solution("1.Ra7 Kd8 (1...Kf8 2.Ra8#) 2.Ra8#")},
                 {solution("1.Ra7 Kd8 (1...Kf8) 2.Ra8# ")}) == "a changed (solution, notation)");
    CHECK(paired({solution("1.Ra7 (1.Ra6) (1.Ra5)")}, {solution("1.Ra7 (1.Ra5) (1.Ra6)")}) ==
          "a changed (solution, notation)");
}

TEST_CASE("layout is no change") {
    const Documents before{read("a.yaml", "puzzles:\n"
                                          "  - id: a\n"
                                          "    fen: \"6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1\"\n"
                                          "    solution: \"1.Rd8# {the rank is weak} (1.Rd7? g6)\"\n"
                                          "    themes: [mate, back-rank mate]\n"
                                          "    source: own work\n"
                                          "    composer: nobody\n")};
    const Documents after{read("a.yaml", "# a comment\r\n"
                                         "collection: Something\r\n"
                                         "\r\n"
                                         "puzzles:\r\n"
                                         "- themes:\r\n"
                                         "  - back-rank mate\r\n"
                                         "  - mate\r\n"
                                         "  composer: 'nobody'\r\n"
                                         "  source:   own work\r\n"
                                         "  solution: |\r\n"
                                         "    1. Rd8# { the rank\r\n"
                                         "    is weak }\r\n"
                                         "    ( 1. Rd7 ? g6 )\r\n"
                                         "  fen: 6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1\r\n"
                                         "  id: a\r\n")};
    REQUIRE(before[0].puzzles.size() == 1);
    REQUIRE(after[0].puzzles.size() == 1);
    CHECK(paired(before, after) == "a same");
}

TEST_CASE("a puzzle keeps its partner when it moves") {
    const Documents before{yaml("a.yaml", {one("a"), two("b"), three("c"), four("d")}), yaml("b.yaml", {})};
    SECTION("within its file: as few as possible are said to have moved") {
        CHECK(paired(before, {yaml("a.yaml", {four("d"), one("a"), two("b"), three("c")})}) ==
              "d moved, a same, b same, c same");
    }
    SECTION("to another file") {
        CHECK(paired(before, {yaml("a.yaml", {one("a"), three("c"), four("d")}),
                              yaml("b.yaml", {two("b")})}) == "a same, c same, d same, b moved");
    }
    SECTION("with its whole file renamed, and edited on the way") {
        Puzzle edited = two("b");
        edited.solution = "1.Qg7# {mate}";
        CHECK(paired(before, {yaml("c.yaml", {one("a"), edited, three("c"), four("d")})}) ==
              "a moved, b changed (solution, file), c moved, d moved");
    }
    SECTION("without an id of its own") {
        const Documents nameless{yaml("a.yaml", {one(""), two(""), three("")})};
        CHECK(paired(nameless, {yaml("a.yaml", {four(""), one(""), two(""), three("")})}) ==
              "+a.yaml#1, a.yaml#2<a.yaml#1 same, a.yaml#3<a.yaml#2 same, a.yaml#4<a.yaml#3 same");
        CHECK(paired(nameless, {yaml("b.yaml", {three(""), one("")})}) ==
              "b.yaml#1<a.yaml#3 moved, b.yaml#2<a.yaml#1 moved, -a.yaml#2");
    }
}

TEST_CASE("a copy is added, whichever comes first") {
    const Documents before{yaml("b.yaml", {one("a")})};
    CHECK(paired(before, {yaml("b.yaml", {one("a"), one("z")})}) == "a same, +z");
    CHECK(paired(before, {yaml("b.yaml", {one("z"), one("a")})}) == "+z, a same");
    CHECK(paired(before, {yaml("a.yaml", {one("a")}), yaml("b.yaml", {one("a")})}) == "+a, a same");
    CHECK(paired(before, {yaml("a.yaml", {one("")}), yaml("b.yaml", {one("a")})}) == "+a.yaml#1, a same");
}

TEST_CASE("an id says who a puzzle is when nothing else does") {
    CHECK(paired({yaml("a.yaml", {one("a"), two("b")})}, {yaml("a.yaml", {three("a"), two("b")})}) ==
          "a changed (position, solution, notation), b same");
}

TEST_CASE("a renumbered collection is no new one") {
    CHECK(paired({yaml("a.yaml", {one("001"), two("002"), three("003")})},
                 {yaml("a.yaml", {four("001"), one("002"), two("003"), three("004")})}) ==
          "+001, 002<001 changed (id), 003<002 changed (id), 004<003 changed (id)");
}

TEST_CASE("equal ids within a state are told apart by the diagram") {
    CHECK(paired({yaml("a.yaml", {one("x"), two("x")})}, {yaml("a.yaml", {two("x"), one("x")})}) ==
          "x moved, x same");
    CHECK(paired({yaml("a.yaml", {one("x"), two("x")})}, {yaml("a.yaml", {two("x")})}) == "x same, -x");
}

TEST_CASE("an edited puzzle without an id is known by likeness") {
    const std::string rook_on_c1 = "6k1/5ppp/8/8/8/8/5PPP/2R3K1 w - - 0 1";
    const Documents before{yaml("a.yaml", {two(""), one(""), three("")})};
    SECTION("one man set elsewhere") {
        CHECK(paired(before, {yaml("a.yaml", {two(""), {"", rook_on_c1, "1.Rc8#", ""}, three("")})}) ==
              "a.yaml#1 same, a.yaml#2 changed (position, solution, notation), a.yaml#3 same");
    }
    SECTION("another diagram is another puzzle") {
        CHECK(paired(before, {yaml("a.yaml", {two(""), four(""), three("")})}) ==
              "a.yaml#1 same, +a.yaml#2, a.yaml#3 same, -a.yaml#2");
    }
    SECTION("in a renamed file only with the same play") {
        const std::string with_a_pawn = "6k1/5ppp/8/8/8/P7/5PPP/3R2K1 w - - 0 1";
        CHECK(paired(before, {yaml("b.yaml", {{"", with_a_pawn, "1.Rd8#", ""}})}) ==
              "b.yaml#1<a.yaml#2 changed (position, file), -a.yaml#1, -a.yaml#3");
        CHECK(paired(before, {yaml("b.yaml", {{"", rook_on_c1, "1.Rc8#", ""}})}) ==
              "+b.yaml#1, -a.yaml#1, -a.yaml#2, -a.yaml#3");
    }
    SECTION("two stated ids that differ need more than likeness") {
        CHECK(paired({yaml("a.yaml", {one("a")})}, {yaml("a.yaml", {{"b", rook_on_c1, "1.Rc8#", ""}})}) ==
              "+b, -a");
    }
}

TEST_CASE("of several that are alike the nearest is taken") {
    // The same play; the pawns on the third rank tell how far two diagrams are apart.
    const auto with = [](const std::string& third_rank) {
        return Puzzle{"", "6k1/5ppp/8/8/8/" + third_rank + "/5PPP/3R2K1 w - - 0 1", "1.Rd8#", ""};
    };
    const Puzzle none = with("8");
    const Puzzle one_pawn = with("P7");
    const Puzzle two_pawns = with("PP6");
    const Puzzle three_pawns = with("PPP5");
    SECTION("not the first that fits") {
        CHECK(paired({yaml("a.yaml", {three_pawns, none})}, {yaml("a.yaml", {one_pawn})}) ==
              "a.yaml#1<a.yaml#2 changed (position), -a.yaml#1");
        CHECK(paired({yaml("a.yaml", {none, three_pawns})}, {yaml("a.yaml", {one_pawn})}) ==
              "a.yaml#1 changed (position), -a.yaml#2");
    }
    SECTION("changed in two ways: the nearer one goes on, the other is new") {
        CHECK(paired({yaml("a.yaml", {none})}, {yaml("a.yaml", {three_pawns, one_pawn})}) ==
              "+a.yaml#1, a.yaml#2<a.yaml#1 changed (position)");
        CHECK(paired({yaml("a.yaml", {none})}, {yaml("a.yaml", {one_pawn, three_pawns})}) ==
              "a.yaml#1 changed (position), +a.yaml#2");
    }
    SECTION("two and two: each with its own") {
        CHECK(paired({yaml("a.yaml", {none, three_pawns})}, {yaml("a.yaml", {two_pawns, one_pawn})}) ==
              "a.yaml#1<a.yaml#2 changed (position), a.yaml#2<a.yaml#1 changed (position)");
    }
    SECTION("in a renamed file, too") {
        CHECK(paired({yaml("a.yaml", {three_pawns, none})}, {yaml("b.yaml", {one_pawn})}) ==
              "b.yaml#1<a.yaml#2 changed (position, file), -a.yaml#1");
        CHECK(paired({yaml("a.yaml", {none})}, {yaml("b.yaml", {three_pawns, one_pawn})}) ==
              "+b.yaml#1, b.yaml#2<a.yaml#1 changed (position, file)");
    }
    SECTION("equally near: the first") {
        CHECK(paired({yaml("a.yaml", {with("7P"), with("6P1")})}, {yaml("a.yaml", {none})}) ==
              "a.yaml#1 changed (position), -a.yaml#2");
    }
}

TEST_CASE("a puzzle that cannot be read is still followed") {
    const Puzzle broken{"", "6k1/5ppp/8/8 w", "1.Rd8#", ""};
    CHECK(paired({yaml("a.yaml", {broken, one("")})}, {yaml("a.yaml", {one(""), broken})}) ==
          "a.yaml#1<a.yaml#2 moved, a.yaml#2<a.yaml#1 same");
}

TEST_CASE("from one format to another the diagram leads") {
    const std::string pgn = "[FEN \"" + back_rank + "\"]\n[SetUp \"1\"]\n\n1. Rd8# *\n";
    const auto pairs =
        history::pair_puzzles(Documents{yaml("a.yaml", {one("a")})}, Documents{read("a.pgn", pgn)});
    REQUIRE(pairs.size() == 1);
    CHECK(pairs[0].change == history::Change::changed);
}

TEST_CASE("many unpaired puzzles take time in proportion") {
    // Diagrams of a king, a rook and a king, each edited; all pairs would be 400 million.
#ifdef NDEBUG
    constexpr int puzzles = 20'000;
#else
    constexpr int puzzles = 4'000;
#endif
    const auto collection = [](int rook_shift) {
        std::string text;
        for (int i = 0; i < puzzles; ++i) {
            board::Setup setup;
            setup.put(board::square_at(i % 8, 0), {board::Color::white, board::Role::king});
            setup.put(board::square_at(i / 8 % 8, 7), {board::Color::black, board::Role::king});
            setup.put(board::square_at(i / 64 % 8, 2 + rook_shift), {board::Color::white, board::Role::rook});
            setup.put(board::square_at(i / 512 % 8, 5), {board::Color::black, board::Role::knight});
            text += board::write_fen(setup).substr(0, board::write_fen(setup).find(" 0 1")) + " c0 \"" +
                    std::to_string(i) + "\";\n";
        }
        return read("a.epd", text);
    };
    const auto pairs = history::pair_puzzles(Documents{collection(0)}, Documents{collection(1)});
    CHECK(pairs.size() >= std::size_t{puzzles});
}

TEST_CASE("a longest rising run") {
    using history::longest_rising;
    CHECK(longest_rising(std::vector<std::size_t>{}).empty());
    CHECK(longest_rising(std::vector<std::size_t>{3, 0, 1, 2}) == std::vector<bool>{false, true, true, true});
    CHECK(longest_rising(std::vector<std::size_t>{0, 3, 1, 2, 4}) ==
          std::vector<bool>{true, false, true, true, true});
    CHECK(longest_rising(std::vector<std::size_t>{2, 1, 0}) == std::vector<bool>{false, false, true});
    CHECK(longest_rising(std::vector<std::size_t>{5, 5, 5}) == std::vector<bool>{false, false, true});
}
