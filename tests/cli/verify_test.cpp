// Certificates by way of the program: solve --certificate writes what verify holds to be true.
#include "harness.hpp"

using harness::holds;
using harness::Shelf;

namespace {

constexpr const char* two_moves = "7k/8/5K2/8/8/8/8/R7 w - - 0 1";
const std::string proof =
    "sidelint certificate 1\nfen 7k/8/5K2/8/8/8/8/R7 w - - 0 1\ngoal mate in 2\nkey Kg6\nKg8 Ra8#\n";

} // namespace

TEST_CASE("solve --certificate: a file beside the table, and verify holds it") {
    const Shelf shelf;
    const auto plain = shelf.run({"solve", two_moves, "--goal", "mate in 2"});
    const auto solved = shelf.run({"solve", two_moves, "--goal", "mate in 2", "--certificate", "proof.txt"});
    CHECK(solved.status == 0);
    CHECK(solved.err.empty());
    CHECK(solved.out == plain.out);
    CHECK(shelf.read("proof.txt") == proof);
    const auto verified = shelf.run({"verify", "proof.txt"});
    CHECK(verified.status == 0);
    CHECK(verified.err.empty());
    CHECK(verified.out ==
          std::string("proof.txt: holds: mate in 2 by 1.Kg6, 2 positions, from ") + two_moves + '\n');
}

TEST_CASE("solve --certificate -: the certificate alone, with and without goal and key") {
    const Shelf shelf;
    CHECK(shelf.run({"solve", two_moves, "--goal", "mate in 2", "--certificate", "-"}).out == proof);
    CHECK(shelf.run({"solve", two_moves, "--certificate", "-"}).out == proof);
    CHECK(shelf.run({"solve", two_moves, "--goal", "win", "--key", "Kg6", "--certificate=-"}).out == proof);
    const auto later =
        shelf.run({"solve", two_moves, "--goal", "mate in 4", "--key", "Ra2", "--certificate", "-"});
    CHECK(later.status == 0);
    CHECK(holds(later.out, "goal mate in 4\nkey Ra2\n"));
    shelf.write("later.txt", later.out);
    CHECK(holds(shelf.run({"verify", "later.txt"}).out, "holds: mate in 4 by 1.Ra2, "));
}

TEST_CASE("solve --certificate: what is not proved is not certified") {
    const Shelf shelf;
    const auto refused = [&](std::vector<std::string> arguments, int status, const std::string& message) {
        arguments.insert(arguments.begin(), "solve");
        const auto ran = shelf.run(arguments);
        INFO(ran.err);
        CHECK(ran.status == status);
        CHECK(holds(ran.err, message));
        CHECK(shelf.run({"verify", "proof.txt"}).status == 3); // nothing was written
        return ran;
    };
    const std::vector<std::string> false_key{two_moves, "--goal", "mate in 2",
                                             "--key",   "Ra2",    "--certificate"};
    const auto with = [](std::vector<std::string> arguments, const std::string& last) {
        arguments.push_back(last);
        return arguments;
    };
    CHECK(holds(refused(with(false_key, "proof.txt"), 3, "no certificate: mate in 2 by Ra2 is wrong").out,
                "falls short"));
    CHECK(refused(with(false_key, "-"), 3, "no certificate: mate in 2 by Ra2 is wrong").out.empty());
    CHECK(refused({"6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", "--key", "Kf1", "--effort", "draft",
                   "--certificate", "-"},
                  3, "no certificate: no mate by Kf1 is found")
              .out.empty());
    refused({"7k/5Q2/6K1/8/8/8/8/8 b - - 0 1", "--certificate", "proof.txt"}, 3,
            "no certificate: the game is over");
    refused({two_moves, "--certificate", "missing/proof.txt"}, 3, "missing/proof.txt: cannot write");
    refused({two_moves, "--certificate", ""}, 2, "--certificate: no file is named");
}

TEST_CASE("verify: each file is told of, and the worst decides the status") {
    const Shelf shelf;
    shelf.write("good.txt", proof);
    std::string wrong = proof;
    wrong.replace(wrong.find("Ra8#"), 4, "Ra7");
    shelf.write("wrong.txt", wrong);
    const auto both = shelf.run({"verify", "wrong.txt", "good.txt"});
    CHECK(both.status == 1);
    CHECK(both.err.empty());
    CHECK(holds(both.out,
                "wrong.txt:5: does not hold: the reply Kf8 is not answered\ngood.txt: holds: mate in 2"));
    const auto missing = shelf.run({"verify", "none.txt", "wrong.txt", "good.txt"});
    CHECK(missing.status == 3);
    CHECK(holds(missing.err, "none.txt: cannot read: No such file"));
    CHECK(missing.out == both.out);
    CHECK(holds(shelf.run({"verify", "."}).err, "cannot read: this is a folder"));
    CHECK(shelf.run({"verify", "."}).status == 3);
    CHECK(shelf.run({"verify"}).status == 2);
    CHECK(shelf.run({"verify", "--fast", "good.txt"}).status == 2);
}

TEST_CASE("verify: hostile bytes stay one line of harmless text") {
    const Shelf shelf;
    shelf.write("empty.txt", "");
    shelf.write("noise.txt", std::string("sidelint certificate \x1b[31m\0##[error]\n", 36) + "\n::error::x");
    const auto ran = shelf.run({"verify", "empty.txt", "noise.txt"});
    CHECK(ran.status == 1);
    CHECK(harness::count(ran.out, "\n") == 2);
    CHECK(ran.out.find('\x1b') == std::string::npos);
    CHECK(ran.out.find('\0') == std::string::npos);
    shelf.write("huge.txt", std::string(30'000'000, '\n'));
    const auto huge = shelf.run({"verify", "huge.txt"});
    CHECK(huge.status == 3);
    CHECK(holds(huge.err, "huge.txt: larger than "));
}
