// What earlier runs found out never changes an answer.
#include "harness.hpp"

#include "app/memory.hpp"

#include <fmt/format.h>
#include <sqlite3.h>

#include <atomic>
#include <fstream>
#include <thread>

using harness::cooked;
using harness::holds;
using harness::puzzles;
using harness::Ran;
using harness::sound;
using harness::sound_too;

namespace fs = std::filesystem;

namespace {

const std::vector<std::string> check{"check", "--cache", "kept", "--format", "json", "--detail", "puzzles"};

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
    const Ran cold = shelf.run(check);
    REQUIRE(fs::exists(memory_file(shelf)));
    CHECK(fs::exists(shelf.path() / "kept/CACHEDIR.TAG"));
    const Ran warm = shelf.run(check);
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
    REQUIRE(shelf.run(check).status == 1);
    // An empty list of findings in MessagePack, kept by hand: [[], [], null].
    overwrite_all(shelf, std::string("\x93\x90\x90\xc0", 4));
    CHECK(shelf.run({"check", "--cache", "kept"}).status == 1); // without puzzles: other keys
    const Ran ran = shelf.run(check);
    CHECK(ran.status == 0);
    CHECK(shelf.run(with(check, {"--rule", "key/cook=note"})).status == 0); // other settings: worked out anew
    CHECK(holds(shelf.run(with(check, {"--rule", "key/cook=note"})).out, "\"note\""));
}

TEST_CASE("whatever else changes the answer is part of the key") {
    const harness::Shelf shelf;
    shelf.write(
        "a.yaml",
        "defaults: {goal: mate in 1}\npuzzles:\n  - id: one\n    fen: \"7k/5ppp/8/8/8/8/8/R2Q2K1 w - - "
        "0 1\"\n    solution: \"1.Ra8#\"\n");
    const auto told = [&](const std::vector<std::string>& more = {}) {
        const Ran kept = shelf.run(with(check, more));
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
    const Ran first = shelf.run(check);
    for (const std::string nonsense : {"", "\x93", "\xc0", "\x91\x90", "not MessagePack at all"}) {
        overwrite_all(shelf, nonsense);
        CHECK(shelf.run(check).out == first.out);
    }
    shelf.write("kept/findings.sqlite", std::string(100000, 'x'));
    CHECK(shelf.run(check).out == first.out);
    const std::string whole = shelf.read("kept/findings.sqlite");
    shelf.write("kept/findings.sqlite", whole.substr(0, whole.size() / 2));
    CHECK(shelf.run(check).out == first.out);
    fs::permissions(shelf.path() / "kept", fs::perms::none);
    CHECK(shelf.run(check).out == first.out);
    fs::permissions(shelf.path() / "kept", fs::perms::owner_all);
    fs::remove_all(shelf.path() / "kept");
    shelf.write("kept", "a file where the folder should be");
    CHECK(shelf.run(check).out == first.out);
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
            runs.emplace_back([&] { same += shelf.run(check).out == expected ? 1 : 0; });
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
