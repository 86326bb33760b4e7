// What earlier runs found out never changes an answer.
#include "harness.hpp"

#include "app/memory.hpp"
#include "holds.hpp"

#include <fmt/format.h>
#include <sqlite3.h>

#include <atomic>
#include <fstream>
#include <thread>

using harness::cooked;
using harness::puzzles;
using harness::Ran;
using harness::sound;
using harness::sound_too;

namespace fs = std::filesystem;

namespace {

const std::vector<std::string> check_all{"check", "--cache",  "kept",   "--format",
                                         "json",  "--detail", "puzzles"};

std::vector<std::string> with(std::vector<std::string> words, const std::vector<std::string>& more) {
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

std::string memory_file(const harness::Shelf& shelf) {
    return (shelf.path() / "kept/findings.sqlite").string();
}

/// Puts a value of our own under every key.
void overwrite_all(const harness::Shelf& shelf, const std::string& value) {
    sqlite3* database = nullptr;
    REQUIRE(sqlite3_open(memory_file(shelf).c_str(), &database) == SQLITE_OK);
    std::string hex;
    for (const char byte : value) {
        hex += fmt::format("{:02x}", static_cast<unsigned char>(byte));
    }
    const std::string sql = "UPDATE remembered SET value = x'" + hex + "'";
    CHECK(sqlite3_exec(database, sql.c_str(), nullptr, nullptr, nullptr) == SQLITE_OK);
    CHECK(sqlite3_changes(database) > 0);
    CHECK(sqlite3_close(database) == SQLITE_OK);
}

std::vector<std::string> all_formats(const harness::Shelf& shelf) {
    shelf.write("a.yaml", puzzles({cooked("one"), sound("two"),
                                   sound_too("three") + "    themes: [fork, nonsense]\n" +
                                       "    allow: [{rule: theme/unsupported, why: x}]\n"}));
    shelf.write("b.pgn", "[FEN \"7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 1\"]\n[Goal \"mate in 1\"]\n\n1. Ra8# *\n\n"
                         "[FEN \"6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1\"]\n\n1. Rd8 {no sign} (1. Rd7) *\n");
    shelf.write("c.epd", "7k/5ppp/8/8/8/8/8/R2Q2K1 w - - bm Ra8#; dm 1; id \"c\";\n");
    return {"a.yaml", "b.pgn", "c.epd"};
}

} // namespace

TEST_CASE("a second run tells the same bytes as the first, and as one without memory") {
    const harness::Shelf shelf;
    const auto files = all_formats(shelf);
    const Ran cold = shelf.run(check_all);
    REQUIRE(fs::exists(memory_file(shelf)));
    CHECK(fs::exists(shelf.path() / "kept/CACHEDIR.TAG"));
    const Ran warm = shelf.run(check_all);
    const Ran without = shelf.run(
        {"check", "--no-cache", "--format", "json", "--detail", "puzzles", "a.yaml", "b.pgn", "c.epd"});
    CHECK(cold.status == 1);
    CHECK(warm.out == cold.out);
    CHECK(without.out == cold.out);
    CHECK(harness::json_of(cold)["findings"].size() > 5);
}

TEST_CASE("the second run does not work it out again: what is kept is what is told") {
    const harness::Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one")}));
    REQUIRE(shelf.run(check_all).status == 1);
    // An empty list of findings in MessagePack, kept by hand: [[], [], null].
    overwrite_all(shelf, std::string("\x93\x90\x90\xc0", 4));
    CHECK(shelf.run({"check", "--cache", "kept"}).status == 1); // without puzzles: other keys
    const Ran ran = shelf.run(check_all);
    CHECK(ran.status == 0);
    CHECK(shelf.run(with(check_all, {"--rule", "key/cook=note"})).status ==
          0); // other settings: worked out anew
    CHECK(holds(shelf.run(with(check_all, {"--rule", "key/cook=note"})).out, "\"note\""));
}

TEST_CASE("whatever else changes the answer is part of the key") {
    const harness::Shelf shelf;
    shelf.write(
        "a.yaml",
        "defaults: {goal: mate in 1}\npuzzles:\n  - id: one\n    fen: \"7k/5ppp/8/8/8/8/8/R2Q2K1 w - - "
        "0 1\"\n    solution: \"1.Ra8#\"\n");
    const auto told = [&](const std::vector<std::string>& more = {}) {
        const Ran kept = shelf.run(with(check_all, more));
        const Ran anew = shelf.run(
            with({"check", "--no-cache", "--format", "json", "--detail", "puzzles", "a.yaml"}, more));
        CHECK(kept.out == anew.out);
        return kept.out;
    };
    const std::string first = told();
    CHECK(told({"--effort", "draft"}) != first);
    shelf.write(
        "a.yaml",
        "defaults: {goal: mate in 2}\npuzzles:\n  - id: one\n    fen: \"7k/5ppp/8/8/8/8/8/R2Q2K1 w - - "
        "0 1\"\n    solution: \"1.Ra8#\"\n");
    CHECK(holds(told(), "mate in 2")); // a default stands outside the puzzle
    shelf.write("a.yaml", "# a line more\ndefaults: {goal: mate in 2}\npuzzles:\n  - id: one\n    fen: "
                          "\"7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 1\"\n    solution: \"1.Ra8#\"\n");
    CHECK(nlohmann::json::parse(told())["puzzles"][0]["line"] == 4);
    shelf.write(".sidelint.yaml", "win-at: 3.0\n");
    told();
}

TEST_CASE("a memory that is damaged, of another program, or full of nonsense is as good as none") {
    const harness::Shelf shelf;
    all_formats(shelf);
    const Ran first = shelf.run(check_all);
    for (const std::string nonsense : {"", "\x93", "\xc0", "\x91\x90", "not MessagePack at all"}) {
        overwrite_all(shelf, nonsense);
        CHECK(shelf.run(check_all).out == first.out);
    }
    shelf.write("kept/findings.sqlite", std::string(100000, 'x'));
    CHECK(shelf.run(check_all).out == first.out);
    const std::string whole = shelf.read("kept/findings.sqlite");
    shelf.write("kept/findings.sqlite", whole.substr(0, whole.size() / 2));
    CHECK(shelf.run(check_all).out == first.out);
    fs::permissions(shelf.path() / "kept", fs::perms::none);
    CHECK(shelf.run(check_all).out == first.out);
    fs::permissions(shelf.path() / "kept", fs::perms::owner_all);
    fs::remove_all(shelf.path() / "kept");
    shelf.write("kept", "a file where the folder should be");
    CHECK(shelf.run(check_all).out == first.out);
}

TEST_CASE("several runs at once share one memory") {
    const harness::Shelf shelf;
    all_formats(shelf);
    const std::string expected = shelf
                                     .run({"check", "--no-cache", "--format", "json", "--detail", "puzzles",
                                           "a.yaml", "b.pgn", "c.epd"})
                                     .out;
    std::atomic<int> same = 0;
    {
        std::vector<std::jthread> runs;
        for (int i = 0; i < 4; ++i) {
            runs.emplace_back([&] { same += shelf.run(check_all).out == expected ? 1 : 0; });
        }
    }
    CHECK(same == 4);
}

TEST_CASE("the memory stays within its limit, and forgets first what was not asked for longest") {
    const harness::Shelf shelf;
    const fs::path folder = shelf.path() / "kept";
    const std::string value(10000, 'v');
    {
        app::Memory memory(folder);
        memory.keep("old", value);
    }
    for (int run = 0; run < 40; ++run) { // several generations
        app::Memory memory(folder);
        memory.keep("key" + std::to_string(run), value);
        CHECK(memory.find("old") == value);
    }
    CHECK(app::Memory(folder, 300000).works()); // over its limit: forgets on closing
    app::Memory memory(folder);
    CHECK(memory.find("old"));
    CHECK(memory.find("key39"));
    CHECK_FALSE(memory.find("key0"));
}

TEST_CASE("without a folder nothing is kept and nothing fails") {
    app::Memory memory(std::nullopt);
    CHECK_FALSE(memory.works());
    memory.keep("a", "b");
    CHECK_FALSE(memory.find("a"));
}

namespace {

/// Files in folders; what the rules about the whole have to say crosses them.
void mixed_files(const harness::Shelf& shelf) {
    for (int i = 0; i < 6; ++i) {
        shelf.write("sets/" + std::to_string(i) + ".yaml",
                    puzzles({sound("a" + std::to_string(i)),
                             cooked(i % 2 == 0 ? "same" : "other" + std::to_string(i))}));
    }
    shelf.write("sets/deep/x.pgn",
                "[PuzzleId \"x\"]\n[FEN \"k7/8/1K6/8/8/8/8/7R w - - 0 1\"]\n\n1. Rh8# *\n");
}

std::string anew(const harness::Shelf& shelf, std::vector<std::string> words) {
    words.emplace_back("--no-cache");
    return shelf.run(words).out;
}

} // namespace

TEST_CASE(
    "whole files are remembered: whatever changes among them, a run tells what one without memory does") {
    const harness::Shelf shelf;
    mixed_files(shelf);
    const std::vector<std::string> words{"check", "sets", "--format", "json", "--detail", "puzzles"};
    const auto same = [&] {
        const std::string expected = anew(shelf, words);
        CHECK(shelf.run(with(words, {"--cache", "kept"})).out == expected); // in part from memory
        CHECK(shelf.run(with(words, {"--cache", "kept"})).out == expected); // in full
        CHECK(shelf.run(with(words, {"--cache", "kept", "--jobs", "1"})).out == expected);
        return expected;
    };
    const std::string first = same();
    CHECK(holds(first, "set/duplicate-id"));
    CHECK(holds(first, "set/duplicate-position"));
    shelf.write("sets/3.yaml", puzzles({sound_too("same")})); // one more of that id
    CHECK(harness::count(same(), "set/duplicate-id") == harness::count(first, "set/duplicate-id") + 1);
    fs::remove(shelf.path() / "sets/0.yaml"); // the first of them, which the others named
    CHECK_FALSE(holds(same(), "sets/0.yaml"));
    fs::rename(shelf.path() / "sets/1.yaml", shelf.path() / "sets/renamed.yaml");
    CHECK(holds(same(), "sets/renamed.yaml"));
    shelf.write(".sidelint.yaml", "rules: {set/duplicate-position: off}\n");
    CHECK_FALSE(holds(same(), "set/duplicate-position"));
    shelf.write(".sidelint.yaml", "exclude: [\"sets/deep/**\"]\n");
    CHECK_FALSE(holds(same(), "deep"));
    shelf.write(".sidelint.yaml", "overrides: [{files: \"sets/4.yaml\", rules: {key/cook: note}}]\n");
    CHECK(holds(same(), "\"note\""));
}

TEST_CASE("a remembered file is told in every format, with a baseline and in parts as a fresh one") {
    const harness::Shelf shelf;
    mixed_files(shelf);
    const std::vector<std::string> words{"check", "sets", "--fail-on", "never"};
    for (const char* format : {"text", "sarif", "junit", "code-quality", "html", "markdown", "jsonl"}) {
        const auto some = with(words, {"--format", format});
        const std::string expected = anew(shelf, some);
        CHECK(shelf.run(with(some, {"--cache", "kept"})).out == expected);
        CHECK(shelf.run(with(some, {"--cache", "kept"})).out == expected);
    }
    REQUIRE(shelf.run({"baseline", "accept", "baseline.jsonl", "--reason", "old"}).status == 0);
    const auto held = with(words, {"--baseline", "baseline.jsonl"});
    const std::string expected = anew(shelf, held);
    CHECK(shelf.run(with(held, {"--cache", "kept"})).out == expected);
    for (const char* cache : {"--no-cache", "--cache=kept"}) {
        REQUIRE(shelf.run(with(words, {cache, "--shard", "1/2", "--format", "part=one"})).status == 0);
        REQUIRE(shelf.run(with(words, {"--cache=kept", "--shard", "2/2", "--format", "part=two"})).status ==
                0);
        CHECK(shelf.run({"merge", "one", "two", "--fail-on", "never"}).out == anew(shelf, words));
    }
}

TEST_CASE("rows of nonsense for whole files and folders are as good as none") {
    scratch::Repository repository;
    scratch::Files files{{"sets/a.yaml", {puzzles({sound("one")})}},
                         {"b.yaml", {puzzles({sound_too("two")})}}};
    repository.check_in(files);
    files["sets/c.yaml"] = {puzzles({cooked("two")})};
    repository.check_in(files);
    const std::vector<std::string> plain{"check", "--format", "json", "--cache", "../kept"};
    const std::vector<std::string> commit{"check", "--commit", "HEAD",   "--format",
                                          "json",  "--cache",  "../kept"};
    const Ran first = harness::run_in(repository.root(), plain);
    const Ran change = harness::run_in(repository.root(), commit);
    CHECK(holds(change.out, "set/duplicate-id"));
    const fs::path file = fs::path(repository.root()).parent_path() / "kept/findings.sqlite";
    for (const std::string nonsense : {"", "40:", "1:x99999999999999999999:", "40:1:", "\x95\x90\x90"}) {
        sqlite3* database = nullptr;
        REQUIRE(sqlite3_open(file.c_str(), &database) == SQLITE_OK);
        sqlite3_stmt* all = nullptr;
        REQUIRE(sqlite3_prepare_v2(database, "UPDATE remembered SET value = ?", -1, &all, nullptr) ==
                SQLITE_OK);
        sqlite3_bind_blob(all, 1, nonsense.data(), static_cast<int>(nonsense.size()), SQLITE_STATIC);
        CHECK(sqlite3_step(all) == SQLITE_DONE);
        CHECK(sqlite3_changes(database) > 2);
        sqlite3_finalize(all);
        sqlite3_close(database);
        CHECK(harness::run_in(repository.root(), commit).out == change.out);
        CHECK(harness::run_in(repository.root(), plain).out == first.out);
    }
}
