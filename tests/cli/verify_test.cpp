// Certificates by way of the program: solve --certificate writes what verify holds to be true.
#include "harness.hpp"
#include "holds.hpp"

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
    refused({two_moves, "--certificate", "missing/proof.txt"}, 3,
            "missing/proof.txt: cannot write the certificate: No such file");
    refused({two_moves, "--certificate", "."}, 3, "cannot write the certificate: this is a folder");
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

TEST_CASE("check --detail proofs: a finding that rests on a mate carries its certificate") {
    const Shelf shelf;
    shelf.write("a.yaml",
                harness::puzzles({harness::cooked("one"),
                                  "  - id: two\n    fen: \"" + std::string(two_moves) +
                                      "\"\n    goal: mate in 3\n    solution: \"1.Kg6 Kg8 2.Ra8#\"\n"}));
    const auto plain = harness::json_of(shelf.run({"check", "--format", "json"}));
    const auto json = harness::json_of(shelf.run({"check", "--format", "json", "--detail", "proofs"}));
    REQUIRE(json["findings"].size() == plain["findings"].size());
    int certificates = 0;
    for (std::size_t i = 0; i < json["findings"].size(); ++i) {
        auto finding = json["findings"][i];
        INFO(finding.dump());
        const auto certificate = finding["evidence"]["certificate"];
        const auto& line = finding["evidence"]["line"];
        const bool mates = line.size() % 2 == 1 && line.back().get<std::string>().ends_with('#');
        CHECK(certificate.is_string() == (mates && finding["certainty"] == "proved"));
        if (certificate.is_string()) {
            ++certificates;
            shelf.write("proof.txt", certificate);
            const auto verified = shelf.run({"verify", "proof.txt"});
            CHECK(verified.status == 0);
            CHECK(holds(verified.out, "by 1." + line.front().get<std::string>() + ", "));
            CHECK(holds(verified.out, finding["evidence"]["fen"].get<std::string>()));
        }
        CHECK(finding["evidence"]["certificate_refused"].is_null());
        finding["evidence"].erase("certificate");
        finding["evidence"].erase("certificate_refused");
        CHECK(finding == plain["findings"][i]);
    }
    CHECK(certificates >= 2); // the cook of the first puzzle, the shorter mate of the second
    const auto schema = harness::json_of(shelf.run({"schema", "report"}));
    const auto& evidence = schema["properties"]["findings"]["items"]["properties"]["evidence"]["properties"];
    CHECK(evidence["certificate"]["type"] == nlohmann::json{"string", "null"});
}

namespace {

/// The finding of a rule in the report on one puzzle, with proofs; null when there is none.
nlohmann::json proved_finding(const Shelf& shelf, const std::string& puzzle, const std::string& rule) {
    shelf.write("a.yaml", harness::puzzles({puzzle}));
    const auto json = harness::json_of(shelf.run({"check", "--format", "json", "--detail", "proofs"}));
    for (const auto& finding : json["findings"]) {
        if (finding["rule"] == rule) {
            return finding;
        }
    }
    return nullptr;
}

std::string verified(const Shelf& shelf, const nlohmann::json& finding) {
    INFO(finding.dump());
    REQUIRE(finding.is_object());
    CHECK(finding["certainty"] == "proved");
    CHECK(finding["evidence"]["certificate_refused"].is_null());
    REQUIRE(finding["evidence"]["certificate"].is_string());
    shelf.write("proof.txt", finding["evidence"]["certificate"]);
    const auto ran = shelf.run({"verify", "proof.txt"});
    CHECK(ran.status == 0);
    return ran.out;
}

} // namespace

TEST_CASE(
    "check --detail proofs: a mate that endgame tables know is proved to its end, though the line is cut") {
    const Shelf shelf;
    const std::string fen = "8/8/3k4/8/8/8/8/R3K3 w - - 0 1";
    const auto finding = proved_finding(
        shelf, "  - id: rook\n    fen: \"" + fen + "\"\n    goal: win\n    solution: \"1.Kd2\"\n",
        "key/cook");
    const auto& line = finding["evidence"]["line"];
    CHECK_FALSE(line.back().get<std::string>().ends_with('#'));
    const std::string told = verified(shelf, finding);
    CHECK(holds(told, "by 1." + line.front().get<std::string>() + ", "));
    CHECK(holds(told, fen));
}

TEST_CASE("check --detail proofs: a key that runs into mate: the defender's mate is proved") {
    const Shelf shelf;
    const auto finding = proved_finding(shelf,
                                        "  - id: queen\n    fen: \"7Q/8/8/8/8/1k6/2r5/K7 w - - 0 1\"\n"
                                        "    goal: win\n    solution: \"1.Qd8\"\n",
                                        "key/refuted");
    CHECK(finding["evidence"]["line"] == nlohmann::json{"Qd8", "Rc1#"});
    CHECK(holds(verified(shelf, finding),
                "mate in 1 by 1...Rc1#, 1 position, from 3Q4/8/8/8/8/1k6/2r5/K7 b - - 1 1"));
}

TEST_CASE("check --detail proofs: of a dual further on the dual is proved, from where it is played") {
    const Shelf shelf;
    const auto finding = proved_finding(shelf,
                                        "  - id: dual\n    fen: \"7k/8/5K2/8/8/8/8/Q7 w - - 0 1\"\n"
                                        "    goal: mate in 2\n    solution: \"1.Kg6+ Kg8 2.Qg7#\"\n",
                                        "line/dual");
    CHECK(finding["evidence"]["line"] == nlohmann::json{"Kg6+", "Kg8", "Qa8#"});
    CHECK(holds(verified(shelf, finding),
                "mate in 1 by 2.Qa8#, 1 position, from 6k1/8/6K1/8/8/8/8/Q7 w - - 2 2"));
}

// The longest mate of two bishops, as published by K. Kryukov.
TEST_CASE(
    "check --detail proofs: a proof that is too long for a report is refused there, and solve writes it") {
    const Shelf shelf;
    const std::string fen = "8/8/8/8/7B/8/3k4/K2B4 w - - 0 1";
    const auto finding = proved_finding(
        shelf, "  - id: bishops\n    fen: \"" + fen + "\"\n    goal: draw\n    solution: \"1.Bb3\"\n",
        "key/wrong-goal");
    INFO(finding.dump());
    REQUIRE(finding.is_object());
    CHECK(finding["certainty"] == "proved");
    CHECK(finding["evidence"]["certificate"].is_null());
    CHECK(finding["evidence"]["certificate_refused"] == "too_long");
    CHECK(shelf.run({"solve", fen, "--key", "Bb3", "--goal", "win", "--certificate", "proof.txt"}).status ==
          0);
    CHECK(holds(shelf.run({"verify", "proof.txt"}).out, "holds: mate in 19 by 1.Bb3, "));
}

TEST_CASE("check --detail proofs: the number of jobs changes no byte") {
    const Shelf shelf;
    shelf.write("a.yaml", harness::puzzles({harness::cooked("one"), harness::cooked("two"),
                                            "  - id: rook\n    fen: \"8/8/3k4/8/8/8/8/R3K3 w - - 0 1\"\n"
                                            "    goal: win\n    solution: \"1.Kd2\"\n"}));
    const auto run = [&](const std::string& jobs) {
        return shelf.run({"check", "--format", "json", "--detail", "proofs", "--jobs", jobs}).out;
    };
    const std::string one = run("1");
    CHECK(one == run("8"));
    CHECK(holds(one, "sidelint certificate 1"));
}
