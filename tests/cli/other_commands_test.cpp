#include "app/words.hpp"
#include "harness.hpp"
#include "holds.hpp"
#include "report/utf8.hpp"
#include "rules/catalogue.hpp"

#include <sstream>

using harness::Shelf;

namespace {

const char* const rook_mates = "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1";

} // namespace

TEST_CASE("solve: every first move with its verdict") {
    const Shelf shelf;
    const auto ran = shelf.run({"solve", rook_mates, "--goal", "mate in 1", "--effort", "draft"});
    CHECK(ran.status == 0);
    CHECK(ran.err.empty());
    CHECK(holds(ran.out, "1  : . : R : . K ."));
    CHECK(holds(ran.out, "White to move"));
    CHECK(holds(ran.out, "Goal: mate in 1. Effort: draft"));
    CHECK(holds(ran.out, "Shortest mate found: 1 move, search complete."));
    CHECK(holds(ran.out, "Rd8#  best "));
    CHECK(holds(ran.out, "mate in 1  1.Rd8#"));
    CHECK(holds(ran.out, "Motifs of 1.Rd8#\n  main        back-rank-mate, 1.Rd8#: the rook on d8 mates"));
    // The rook has twelve moves, the king two, each pawn two.
    CHECK(harness::count(ran.out, "falls short") == 12 - 1 + 2 + 6);
}

TEST_CASE("solve: a key is compared with the rest") {
    const Shelf shelf;
    const char* const two_mates = "7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 1";
    const auto ran = shelf.run({"solve", two_mates, "--goal", "mate in 1", "--key", "Ra8#"});
    CHECK(holds(ran.out, "Ra8#  key "));
    CHECK(holds(ran.out, "Qd8#  as good "));
    CHECK(shelf.run({"solve", two_mates, "--goal", "#1", "--key", "a1a8"}).out == ran.out);
    CHECK(
        holds(shelf.run({"solve", two_mates, "--goal", "mate in 1", "--key", "Kf1", "--effort", "draft"}).out,
              "key, falls short"));
}

#ifdef NDEBUG // builds its endgame tables anew: long under the sanitizers
TEST_CASE("solve: the author's solution is told move by move, with what the rules find in it") {
    const Shelf shelf;
    const char* const waiting = "1k6/1p6/7R/8/5K2/4Q3/8/8 w - - 0 1";
    const auto ran =
        shelf.run({"solve", waiting, "--goal", "mate in 2", "--solution",
                   "1.Rh7! (1.Qb6? Kc8!) 1...b5 (1...Ka8 2.Rh8#) (1...Kc8 2.Qe7) (1...any 2.Qe8#) 2.Qe8#"});
    CHECK(ran.status == 0);
    CHECK(holds(ran.out, "Rh7   key  "));
    CHECK(holds(ran.out, R"(
The solution, move by move
  1.Rh7!      mates in 1 more (proved)
    1.Qb6?    misses the goal: 1...Kc8 (proved)
    1...Kc8!  misses the goal (proved)
  1...b5
    1...Ka8
    2.Rh8#    mate (proved)
    1...Kc8
    2.Qe7     misses the goal: 2...Kb8 (proved)
    1...any   stands for b6
    2.Qe8#
  2.Qe8#      mate (proved)

Findings
  warning line/fails: )"));
    const auto calm = shelf.run({"solve", waiting, "--goal", "mate in 2", "--solution", "1.Rh7 b5 2.Qe8# *"});
    CHECK(holds(calm.out, "\nFindings\n  none\n"));
}
#endif

TEST_CASE("solve: without a goal the best move is found, a FEN may come in pieces") {
    const Shelf shelf;
    const auto whole = shelf.run({"solve", rook_mates, "--effort", "draft"});
    CHECK(whole.status == 0);
    CHECK(holds(whole.out, "Goal: not stated"));
    CHECK(holds(whole.out, "Rd8#  best "));
    const auto pieces =
        shelf.run({"solve", "6k1/5ppp/8/8/8/8/5PPP/3R2K1", "w", "-", "-", "0", "1", "--effort", "draft"});
    CHECK(pieces.out == whole.out);
    CHECK(shelf.run({"solve", "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - -", "--effort", "draft"}).out == whole.out);
}

TEST_CASE("solve: a direct mate shows threat or block, set play, tries and duals") {
    const Shelf shelf;
    const auto ran = shelf.run({"solve", "1k6/1p6/7R/8/5K2/4Q3/8/8 w - - 0 1", "--goal", "mate in 2"});
    CHECK(ran.status == 0);
    CHECK(holds(ran.out, "\n\nProblem play of 1.Rh7 (proved)\n"
                         "  key             block, no threat; takes the flight c7\n"
                         "  set play        1...Ka8 2.Rh8#; no set mate after b5, b6, Kc7, Kc8\n"
                         "  tries           1.Qb6? Kc8!\n"
                         "  weak tries      2, each refuted by two replies\n"
                         "  duals           none\n"
                         "\nMotifs of 1.Rh7"));
    // C. Mansfield, British Chess Magazine, 1922; R. C. O. Matthews, Great Britain - Netherlands, 1956;
    // A. Kish, Christian Science Monitor, 1935; S. Loyd, American Chess Congress, 1880.
    const auto play = [&](const std::string& fen) {
        return shelf.run({"solve", fen, "--goal", "mate in 2"}).out;
    };
    const std::string grouped = play("6K1/6p1/7b/4Pk2/2Q2n1P/2B3R1/5nP1/5R2 w - - 0 1");
    CHECK(holds(grouped, "1...Ne2, Nxg2, N4d3, N4h3, Nd5, Nh5, Ne6, Ng6 2.Qg4#;\n                  1...Bg5"));
    CHECK(holds(grouped, "no set mate after 7 other moves"));
    CHECK(holds(grouped, "\n  tries           none\n"));
    const std::string mutate = play("8/2Kp4/3Pp3/p1k5/P7/p2R4/Bnp1p3/Q1RbB3 w - - 0 1");
    CHECK(holds(mutate, "  set play        complete block: 1...Nxd3 2.Qc3#;"));
    CHECK(holds(mutate, "  changed, mutate 1...Nxd3 2.Qb6# for Qc3#; 1...Nxa4 2.Bf2# for Qe5#;"));
    const std::string promotes = play("2n2K2/1Q3Pr1/3pk3/5bp1/4p1q1/2B1nNNB/8/8 w - - 0 1");
    CHECK(holds(promotes, "  threat          2.f8=N#\n"));
    CHECK(holds(promotes, "\n  promotion duals 1...Rg8+ 2.fxg8=B# or fxg8=Q#\n"));
    const std::string loyd = play("2R5/BpNnp3/qp4RK/p1k1p3/7p/PnN1p3/2Q4r/3r3b w - - 0 1");
    CHECK(holds(loyd, "  threats         2.N3b5# or N7b5#\n"));
    CHECK(holds(loyd, "  duals           1...Rd4 2.Ne4# or N7b5# or Ne8#;"));
    CHECK(holds(play("8/6pp/8/8/K2Q4/R3p3/7p/4k3 w - - 0 1"),
                "  duals           none\n                  by custom none: "));
}

TEST_CASE("solve: motifs of the line, and what other variations of a problem show") {
    const Shelf shelf;
    const auto ran = shelf.run({"solve", "br6/4N3/PP5Q/kpP5/1N6/PPK5/8/8 w - - 0 1", "--goal", "mate in 2"});
    CHECK(holds(ran.out, "novotny, 1.b7"));
    CHECK(holds(ran.out, "shut each other off on b7, the square the solver gives\n"));
    const auto crossed =
        shelf.run({"solve", "br6/8/P3Q3/kpPp4/1N1P4/PP1NK3/8/8 w - - 0 1", "--goal", "mate in 2"});
    CHECK(holds(crossed.out, "the bishop on a8 and the rook on b8 shut each other off on b7\n"));
}

#ifdef NDEBUG // each builds its endgame tables anew: minutes under the sanitizers
TEST_CASE("solve: the play of a problem of Black's, numbered on") {
    const Shelf shelf;
    const auto ran = shelf.run({"solve", "8/8/4q3/8/5k2/7r/1P6/1K6 b - - 0 30", "--goal", "mate in 2"});
    CHECK(holds(ran.out, "Problem play of 30...Rh2 (proved)\n"));
    CHECK(holds(ran.out, "  set play        31.Ka1 Rh1#;"));
    CHECK(holds(ran.out, "  tries           30...Qb3? 31.Kc1!\n"));
}

TEST_CASE("solve: play that the budget left open is said to be") {
    const Shelf shelf;
    const std::vector<std::string> arguments{"solve", "8/8/8/5NkN/5p2/R4K2/8/8 w - - 0 1", "--goal",
                                             "mate in 4"};
    const std::string whole = shelf.run(arguments).out;
    CHECK(holds(whole, "Problem play of 1.Nh4 (proved)\n"));
    CHECK_FALSE(holds(whole, "the budget ended"));
    auto sparing = arguments;
    sparing.insert(sparing.end(), {"--effort", "draft"});
    const std::string part = shelf.run(sparing).out;
    CHECK(holds(part, "Problem play of 1.Nh4 (proved)\n"));
    CHECK(holds(part, "  weak tries      at least "));
    CHECK(holds(part, "  open            tries (the budget ended)\n\nMotifs of "));
    CHECK_FALSE(holds(part, "  tries  ")); // not "none"
}

TEST_CASE("solve: no play is told of mates in one, of long ones, of other goals and of goals that miss the "
          "length") {
    const Shelf shelf;
    const auto silent = [&](const std::string& fen, const std::string& goal) {
        const auto ran =
            shelf.run({"solve", fen, "--goal", goal, "--effort", "draft"}, harness::with_tables());
        CHECK(ran.status == 0);
        CHECK_FALSE(holds(ran.out, "Problem play"));
    };
    silent(rook_mates, "mate in 1");
    silent(rook_mates, "mate in 2");
    silent(rook_mates, "win");
    silent("1k6/1p6/7R/8/3K4/4Q3/8/8 w - - 0 1", "mate in 2"); // mates in three
    silent("8/8/8/8/8/4k3/7r/4K3 b - - 0 1", "mate in 5");
    // Of a key that falls short nothing is told: the play is that of the best move.
    const auto wrong =
        shelf.run({"solve", "1k6/1p6/7R/8/5K2/4Q3/8/8 w - - 0 1", "--goal", "mate in 2", "--key", "Qb6"});
    CHECK(holds(wrong.out, "Qb6   key, falls short  proved"));
    CHECK(holds(wrong.out, "Problem play of 1.Rh7 (proved)"));
}
#endif

TEST_CASE("solve: a move that lets itself be mated at once is proved to fall short") {
    const Shelf shelf;
    const auto ran = shelf.run({"solve", "6k1/5ppp/8/8/8/8/r4PPP/1R4K1 w - - 0 1", "--goal", "win"});
    CHECK(holds(ran.out, "Ra1   falls short  proved    mated in 1  1.Ra1 Rxa1#\n"));
}

TEST_CASE("solve: what cannot be solved is said") {
    const Shelf shelf;
    CHECK(holds(shelf.run({"solve", "3R2k1/5ppp/8/8/8/8/5PPP/6K1 b - - 0 1"}).out, "this is checkmate"));
    CHECK(holds(shelf.run({"solve", "7k/5Q2/6K1/8/8/8/8/8 b - - 0 1"}).out, "this is stalemate"));
    CHECK(holds(shelf.run({"solve", "7k/8/6K1/8/8/8/8/8 b - - 0 1"}).out, "a dead position"));
    const auto refused = [&](const std::vector<std::string>& arguments, const std::string& message) {
        const auto ran = shelf.run(arguments);
        INFO(ran.err);
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
        CHECK(holds(ran.err, message));
    };
    refused({"solve", "rubbish"}, "FEN");
    refused({"solve", ""}, "FEN");
    refused({"solve"}, "FEN");
    refused({"solve", "8/8/8/8/8/8/8/K7 w - - 0 1"}, "each side needs exactly one king");
    refused({"solve", "kK6/8/8/8/8/8/8/8 w - - 0 1"}, "the kings stand next to each other");
    refused({"solve", rook_mates, "--key", "Ke5"}, "Ke5 is no legal move here");
    refused({"solve", rook_mates, "--solution", "1.Ke5"}, "--solution: Ke5 is no legal move here");
    refused({"solve", rook_mates, "--solution", ""}, "there is no move in it");
    refused({"solve", rook_mates, "--solution", "1.Rd8#", "--key", "Rd8#"}, "exclude each other");
    refused({"solve", rook_mates, "--goal", "glory"}, "'glory' is no goal");
    refused({"solve", rook_mates, "--goal", "h#2"}, "no goal that can be tested");
}

TEST_CASE("explain: a rule") {
    const Shelf shelf;
    const auto ran = shelf.run({"explain", "key/cook"});
    CHECK(ran.status == 0);
    CHECK(ran.out.starts_with("key/cook: "));
    for (const char* part :
         {"severity   error", "certainty  ", "Messages", "{move}", "Found in: ", "All right: ", "fen:"}) {
        CHECK(holds(ran.out, part));
    }
    CHECK(holds(shelf.run({"explain", "theme/missing"}).out, "untagged (default no)"));
}

TEST_CASE("explain: the list, everything, and what comes near") {
    const Shelf shelf;
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    REQUIRE(catalogue.ok());
    const auto list = shelf.run({"explain"});
    const auto all = shelf.run({"explain", "--all"});
    CHECK(list.status == 0);
    CHECK(all.status == 0);
    for (const auto& rule : catalogue->rules()) {
        CHECK(holds(list.out, rule.id));
        CHECK(holds(all.out, app::folded(rule.id + ": " + rule.summary)));
    }
#ifdef NDEBUG
    constexpr std::size_t every = 1;
#else
    constexpr std::size_t every = 8; // each run reads the catalogue anew
#endif
    std::size_t turn = 0;
    for (const auto& motif : catalogue->motifs()) {
        CHECK(holds(list.out, motif.motif));
        if (turn++ % every != 0) {
            continue;
        }
        CHECK(shelf.run({"explain", motif.motif}).out.starts_with(motif.motif + ": "));
        CHECK(shelf.run({"explain", motif.id}).out == shelf.run({"explain", motif.name}).out);
    }
    CHECK(holds(shelf.run({"explain", "knight fork"}).out,
                "Also bears out: fork\n\nBorne out by: family fork, royal fork\n"));
    CHECK(holds(shelf.run({"explain", "initiative"}).out, "\nNot checked.\n"));
    const auto disputed = shelf.run({"explain", "x-ray"}).out;
    CHECK(holds(disputed, "\nDisputed\n  Here: "));
    CHECK(holds(disputed, "`themes: {wide: [x-ray]}`"));
    CHECK_FALSE(holds(shelf.run({"explain", "knight fork"}).out, "Disputed"));
    const auto near = shelf.run({"explain", "key/cok"});
    CHECK(near.status == 2);
    CHECK(holds(near.err, "did you mean key/cook?"));
    CHECK(holds(shelf.run({"explain", "unsupported"}).err, "did you mean theme/unsupported?"));
    CHECK(holds(shelf.run({"explain", "zzzzzzzzzz"}).err, "sidelint explain lists them all"));
}

TEST_CASE("folded: what is too wide goes on under the last column, and no word is lost") {
    CHECK(app::folded("  --shard K/N    Only part K of N\n\nshort\n", 30) ==
          "  --shard K/N    Only part K\n                 of N\n\nshort\n");
    CHECK(app::folded("  a  note  what could not be told\n", 24) ==
          "  a  note  what could\n           not be told\n");
    CHECK(app::folded("running text without columns", 16) == "running text\n    without\n    columns\n");
    CHECK(app::folded("    deep running text", 16) == "    deep running\n    text\n");
    CHECK(app::folded("one-word-that-is-long and one", 8) == "one-word-that-is-long\n    and\n    one\n");
    CHECK(app::folded("as wide as it is", 0) == "as wide as it is\n");
    CHECK(app::folded("", 10).empty());
    CHECK(app::folded("blanks at the end      \n                \n", 8) ==
          "blanks\n    at\n    the\n    end\n\n");
    CHECK(app::folded("\n\n", 8) == "\n\n");
}

TEST_CASE("help and lists fit into 80 columns") {
    const Shelf shelf;
    std::string told = shelf.run({"--help"}).out + shelf.run({"explain"}).out;
    for (const char* command : {"check", "fix", "diff", "baseline", "merge", "solve", "hook", "draw",
                                "verify", "explain", "init", "manual", "schema"}) {
        told += shelf.run({command, "--help"}).out;
    }
    std::istringstream lines(told);
    std::size_t read = 0;
    for (std::string line; std::getline(lines, line); ++read) {
        INFO(line);
        CHECK(report::width(line) <= 80);
    }
    CHECK(read > 400);
}
