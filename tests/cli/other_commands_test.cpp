#include "harness.hpp"
#include "rules/catalogue.hpp"

using harness::holds;
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
    CHECK(holds(ran.out, "Motifs of 1.Rd8#"));
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
        CHECK(holds(all.out, rule.id + ": " + rule.summary));
    }
    for (const auto& motif : catalogue->motifs()) {
        CHECK(holds(list.out, motif.motif));
        CHECK(shelf.run({"explain", motif.motif}).out.starts_with(motif.motif + ": "));
        CHECK(shelf.run({"explain", motif.id}).out == shelf.run({"explain", motif.name}).out);
    }
    const auto near = shelf.run({"explain", "key/cok"});
    CHECK(near.status == 2);
    CHECK(holds(near.err, "did you mean key/cook?"));
    CHECK(holds(shelf.run({"explain", "unsupported"}).err, "did you mean theme/unsupported?"));
    CHECK(holds(shelf.run({"explain", "zzzzzzzzzz"}).err, "sidelint explain lists them all"));
}
