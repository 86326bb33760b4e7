// How every command ends, and what must not matter to it.
#include "harness.hpp"
#include "holds.hpp"

#include <clocale>
#include <cstdlib>
#include <filesystem>
#include <locale>

#include <sys/wait.h>

using harness::cooked;
using harness::puzzles;
using harness::Ran;
using harness::run_in;
using harness::Shelf;
using harness::sound;
using harness::sound_too;

namespace {

using Words = std::vector<std::string>;

struct End {
    int status;
    Words words;
};

/// Numbers with a decimal comma and points between thousands.
class Grouping : public std::numpunct<char> {
    char do_decimal_point() const override { return ','; }
    char do_thousands_sep() const override { return '.'; }
    std::string do_grouping() const override { return "\3"; }
};

} // namespace

TEST_CASE("every command with every status it can end in") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({sound("one")})}}});
    repository.check_in({{"a.yaml", {puzzles({sound("one")})}},
                         {"bad.yaml", {puzzles({cooked("two")})}},
                         {"typo.yaml", {puzzles({sound_too("three") + "    themes: [skewwer]\n"})}}});
    const std::string mate = "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1";
    const std::string nowhere = "no/such/folder/file";
    const std::vector<End> ends{
        {0, {"check", "a.yaml"}},
        {1, {"check", "bad.yaml"}},
        {2, {"check", "missing.yaml"}},
        {3, {"check", "bad.yaml", "--format", "json=" + nowhere}},
        {3, {"check", "--against", "v9"}},
        {0, {"diff"}},
        {0, {"diff", "HEAD~1", "HEAD"}},
        {2, {"diff", "one", "two", "three"}},
        {3, {"diff", "v9"}},
        {1, {"fix", "typo.yaml", "--preview"}},
        {1, {"fix", "typo.yaml", "--fail-if-changed"}},
        {0, {"fix", "typo.yaml"}},
        {2, {"fix", "--apply", "0123456789abcdef"}},
        {0, {"baseline", "accept", "accepted.jsonl", "--reason", "old"}},
        {0, {"baseline", "prune", "accepted.jsonl"}},
        {2, {"baseline", "accept", "accepted.jsonl"}},
        {3, {"baseline", "accept", nowhere, "--reason", "old"}},
        {0, {"check", "bad.yaml", "--shard", "1/1", "--format", "part=one.part", "--fail-on", "never"}},
        {1, {"merge", "one.part"}},
        {0, {"merge", "one.part", "--fail-on", "never"}},
        {2, {"merge"}},
        {3, {"merge", "a.yaml"}},
        {0, {"solve", mate, "--goal", "mate in 1", "--certificate", "proof.txt"}},
        {2, {"solve", "no position"}},
        {3, {"solve", mate, "--goal", "mate in 1", "--certificate", nowhere}},
        {0, {"verify", "proof.txt"}},
        {2, {"verify"}},
        {1, {"verify", "a.yaml"}}, // no certificate
        {3, {"verify", nowhere}},
        {0, {"draw", mate}},
        {2, {"draw", "no position"}},
        {0, {"explain", "key/cook"}},
        {2, {"explain", "key/kook"}},
        {0, {"hook"}},
        {0, {"hook", "add", "pre-commit"}},
        {2, {"hook", "add", "post-office"}},
        {0, {"init"}},
        {2, {"init"}}, // it is there by now
        {0, {"schema", "report"}},
        {2, {"schema", "nonsense"}},
        {0, {"--version"}},
        {2, {"unknown"}},
        {2, {}},
    };
    for (const End& end : ends) {
        Words words = end.words;
        const bool solves = !words.empty() && (words[0] == "check" || words[0] == "diff" ||
                                               words[0] == "fix" || words[0] == "baseline");
        if (solves) {
            words.insert(words.end(), {"--effort", "draft"});
        }
        const Ran ran = run_in(repository.root(), words, harness::with_tables());
        CAPTURE(words, ran.out, ran.err);
        CHECK(ran.status == end.status);
        CHECK((ran.status < 2 || holds(ran.err, "sidelint: "))); // a fault is told
    }
    repository.write("typo.yaml", puzzles({sound_too("three") + "    themes: [skewwer]\n"}));
    std::filesystem::permissions(std::filesystem::path(repository.root()) / "typo.yaml",
                                 std::filesystem::perms::owner_read);
    CHECK(
        run_in(repository.root(), {"fix", "typo.yaml", "--effort", "draft"}, harness::with_tables()).status ==
        3);
    const Shelf outside;
    CHECK(outside.run({"hook", "add", "pre-commit"}).status == 3);
}

TEST_CASE("another locale changes no byte") {
    const Shelf shelf;
    std::vector<std::string> entries;
    for (int i = 0; i < 1200; ++i) { // so that there is a number with a group
        entries.push_back("  - id: p" + std::to_string(i) + "\n    fen: nonsense\n");
    }
    shelf.write("a.yaml", puzzles(entries));
    shelf.write("b.yaml", puzzles({cooked("one"), sound("two")}));
    shelf.write(".sidelint.yaml", "win-at: 2.5\nnear: 0.5\n");
    const std::string mate = "7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 1";
    const auto told = [&] {
        std::string text;
        for (const char* format : {"text", "json", "sarif", "junit", "html", "markdown", "code-quality"}) {
            text +=
                shelf.run({"check", "--no-cache", "--effort", "draft", "--format", format, "--limit", "3"})
                    .out;
        }
        return text + shelf.run({"solve", mate, "--goal", "win"}).out + shelf.run({"draw", mate}).out;
    };
    const std::string expected = told();
    REQUIRE(holds(expected, "1202"));
    const std::locale usual = std::locale::global(std::locale(std::locale::classic(), new Grouping));
    const std::string before = std::setlocale(LC_ALL, nullptr);
    (void)std::setlocale(LC_ALL, "de_DE.UTF-8"); // not every machine has it
    const std::string there = told();
    (void)std::setlocale(LC_ALL, before.c_str());
    std::locale::global(usual);
    CHECK(there == expected);
}

TEST_CASE("a reader that goes away ends the run in silence, with the status of the puzzles") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one")}));
    const std::string command = "cd '" + shelf.path().string() +
                                "' && bash -c '{ " SIDELINT_PROGRAM
                                " check --effort draft --no-cache 2>err; echo $? >status; } | true'";
    REQUIRE(WEXITSTATUS(std::system(command.c_str())) == 0);
    CHECK(shelf.read("status") == "1\n");
    CHECK(shelf.read("err").empty());
}
