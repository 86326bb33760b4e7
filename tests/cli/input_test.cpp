// A text on standard input, as an editor hands it over, and options that widen or narrow what is told.
#include "harness.hpp"
#include "holds.hpp"

using harness::cooked;
using harness::json_of;
using harness::puzzles;
using harness::Ran;
using harness::run_in;
using harness::Shelf;
using harness::sound;
using harness::sound_too;

namespace {

using Words = std::vector<std::string>;

Ran check_text(const Shelf& shelf, const std::string& text, const std::string& name, Words more = {}) {
    more.insert(more.begin(), {"check", "-", "--as", name, "--no-cache", "--effort", "draft"});
    return run_in(shelf.path(), more, {}, text);
}

Ran fix_text(const Shelf& shelf, const std::string& text, const std::string& name, Words more = {}) {
    more.insert(more.begin(), {"fix", "-", "--as", name, "--effort", "draft"});
    return run_in(shelf.path(), more, harness::with_tables(), text);
}

std::string unsigned_mate(const std::string& sign) {
    return puzzles({"  - id: one\n    fen: \"6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1\"\n    goal: mate in 1\n"
                    "    solution: \"1.Rd8" +
                    sign + "\"\n"});
}

} // namespace

TEST_CASE("standard input: judged as the file it is said to be, whatever stands there") {
    const Shelf shelf;
    shelf.write("sets/a.yaml", puzzles({sound("one")}));
    const Ran ran = check_text(shelf, puzzles({cooked("one")}), "sets/a.yaml", {"--format", "json"});
    CHECK(ran.status == 1);
    CHECK(json_of(ran)["findings"][0]["file"] == "sets/a.yaml");
    CHECK(shelf.read("sets/a.yaml") == puzzles({sound("one")}));
    CHECK(check_text(shelf, "7k/5ppp/8/8/8/8/8/R2Q2K1 w - - bm Ra8#; dm 1;\n", "not/there.epd").status == 1);
    CHECK(check_text(shelf, "", "a.pgn").status == 0);
}

TEST_CASE("standard input: configuration, exclusions and overrides are those of its name") {
    const Shelf shelf;
    shelf.write(".sidelint.yaml",
                "exclude: [\"old/**\"]\noverrides: [{files: \"sets/**\", rules: {key/cook: off}}]\n");
    const std::string text = puzzles({cooked("one")});
    CHECK(check_text(shelf, text, "other/a.yaml").status == 1);
    CHECK(check_text(shelf, text, "sets/a.yaml").status == 0);
    const Ran excluded = check_text(shelf, text, "old/a.yaml");
    CHECK(excluded.status == 0);
    CHECK_FALSE(holds(excluded.out, "key/cook"));
    CHECK(holds(excluded.out, "excluded by the configuration"));
    CHECK(check_text(shelf, text, "old/a.yaml", {"--excluded-too"}).status == 1);
}

TEST_CASE("standard input: wrong use") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({sound("one")}));
    for (const Words& words : {Words{"check", "-"}, Words{"check", "-", "a.yaml", "--as", "b.yaml"},
                               Words{"check", "a.yaml", "--as", "b.yaml"},
                               Words{"check", "-", "--as", "a.yaml", "--against", "HEAD"}, Words{"fix", "-"},
                               Words{"fix", "-", "--as", "a.yaml", "--staged"}}) {
        const Ran ran = run_in(shelf.path(), words, {}, puzzles({sound("one")}));
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
    }
}

TEST_CASE("fix on standard input: the whole text comes out, corrected or as it was") {
    const Shelf shelf;
    shelf.write(".sidelint.yaml", "exclude: [\"old/**\"]\n");
    const Ran ran = fix_text(shelf, unsigned_mate(""), "a.yaml");
    CHECK(ran.status == 0);
    CHECK(ran.out == unsigned_mate("#"));
    CHECK(holds(ran.err, "a.yaml:6:18: corrected line/notation"));
    CHECK(fix_text(shelf, unsigned_mate(""), "a.yaml", {"--fail-if-changed"}).status == 1);
    for (const std::string& text :
         {unsigned_mate("#"), std::string("no: puzzles\n"), std::string("puzzles: ["), std::string()}) {
        CHECK(fix_text(shelf, text, "a.yaml").out == text);
    }
    const Ran excluded = fix_text(shelf, unsigned_mate(""), "old/a.yaml");
    CHECK(excluded.status == 0);
    CHECK(excluded.out == unsigned_mate(""));
    const Ran preview = fix_text(shelf, unsigned_mate(""), "a.yaml", {"--preview"});
    CHECK(preview.status == 1);
    CHECK(holds(preview.out, "+    solution: \"1.Rd8#\""));
}

TEST_CASE("--allowed-too tells what an allowance silences, and the gate sees it") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one") + "    allow: [{rule: key/cook, why: both are meant}]\n"}));
    const Words usual{"check", "--effort", "draft", "--cache", "kept"};
    Words all = usual;
    all.emplace_back("--allowed-too");
    for (int i = 0; i < 2; ++i) { // worked out, then remembered
        const Ran silent = shelf.run(usual);
        CHECK(silent.status == 0);
        CHECK_FALSE(holds(silent.out, "key/cook"));
        const Ran told = shelf.run(all);
        CHECK(told.status == 1);
        CHECK(holds(told.out, "error key/cook"));
        CHECK_FALSE(holds(told.out, "unused-allowance"));
    }
}

TEST_CASE("--excluded-too: named files, folders and what is staged") {
    scratch::Repository repository;
    const std::string config = "exclude: [\"old/**\"]\n";
    repository.check_in({{".sidelint.yaml", {config}}, {"a.yaml", {puzzles({sound("one")})}}});
    repository.check_in({{".sidelint.yaml", {config}},
                         {"a.yaml", {puzzles({sound("one")})}},
                         {"old/b.yaml", {puzzles({cooked("two")})}}});
    for (const Words& words : {Words{"check"}, Words{"check", "old/b.yaml", "--allow-empty"},
                               Words{"check", "--commit", "HEAD"}, Words{"check", "old", "--allow-empty"}}) {
        Words with = words;
        with.insert(with.end(), {"--effort", "draft", "--no-cache"});
        CHECK(run_in(repository.root(), with).status == 0);
        with.emplace_back("--excluded-too");
        CHECK(run_in(repository.root(), with).status == 1);
    }
}

TEST_CASE("--bear-warnings: one more than that ends in 1, whatever the gate") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({sound("one"), sound_too("two")}));
    const auto status = [&](const Words& more) {
        Words words{"check", "--effort", "draft", "--no-cache"};
        words.insert(words.end(), more.begin(), more.end());
        return shelf.run(words).status;
    };
    shelf.write(".sidelint.yaml", "rules: {set/missing-field: {fields: [source]}}\n");
    REQUIRE(status({}) == 0);
    REQUIRE(status({"--fail-on", "warning"}) == 1);
    CHECK(status({"--bear-warnings", "2"}) == 0);
    CHECK(status({"--bear-warnings", "1"}) == 1);
    CHECK(status({"--bear-warnings", "0", "--fail-on", "never"}) == 1);
    CHECK(status({"--bear-warnings", "some"}) == 2);
}

TEST_CASE("--or-all: without a base everything counts as new, and the report says why") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({cooked("old")})}}});
    const Words lost{"check", "--against", "v9", "--effort", "draft", "--no-cache"};
    CHECK(run_in(repository.root(), lost).status == 3);
    Words all = lost;
    all.emplace_back("--or-all");
    const Ran ran = run_in(repository.root(), all);
    CHECK(ran.status == 1);
    CHECK(holds(ran.out, "Against nothing (cannot find the revision 'v9'"));
    CHECK(holds(ran.out, "(new"));
    CHECK(run_in(repository.root(), {"check", "--or-all"}).status == 2);
    CHECK(run_in(repository.root(), {"check", "--commit", "v9", "--against", "HEAD", "--or-all"}).status ==
          3);
}
