// What a whole run writes: the same bytes anywhere, hostile names and texts, colour.
#include "app/output.hpp"
#include "app/progress.hpp"
#include "app/schedule.hpp"
#include "harness.hpp"
#include "holds.hpp"

#include <array>
#include <atomic>
#include <regex>
#include <sstream>
#include <string_view>
#include <thread>

using harness::cooked;
using harness::puzzles;
using harness::Shelf;
using harness::sound;

namespace {

constexpr std::array formats{"text",  "brief",        "json",        "jsonl",    "sarif",
                             "junit", "code-quality", "annotations", "markdown", "html"};

/// A few files with many puzzles of different cost.
void fill(const Shelf& shelf) {
    for (int file = 0; file < 4; ++file) {
        std::vector<std::string> entries;
        for (int i = 0; i < 6; ++i) {
            const std::string id = "p" + std::to_string(file) + "-" + std::to_string(i);
            entries.push_back(i % 2 == 0 ? cooked(id) : sound(id));
        }
        shelf.write("sets/" + std::to_string(file) + ".yaml", puzzles(entries));
    }
}

} // namespace

TEST_CASE("the number of jobs changes no byte") {
    const Shelf shelf;
    fill(shelf);
    for (const char* format : formats) {
        const auto one = shelf.run({"check", "--format", format, "--detail", "puzzles", "--jobs", "1"});
        const auto eight = shelf.run({"check", "--format", format, "--detail", "puzzles", "--jobs", "8"});
        CHECK(one.status == 1);
        CHECK(one.out == eight.out);
        CHECK(one.out.size() > 1000);
    }
}

TEST_CASE("for_each_index does every piece once") {
    for (const std::size_t jobs : {std::size_t{1}, std::size_t{3}, std::size_t{16}}) {
        std::vector<std::atomic<int>> seen(100);
        app::for_each_index(seen.size(), jobs, [&](std::size_t i) { ++seen[i]; });
        CHECK(std::all_of(seen.begin(), seen.end(), [](const auto& n) { return n == 1; }));
    }
    app::for_each_index(0, 4, [](std::size_t) { FAIL("nothing to do"); });
    CHECK(app::usable_processors() >= 1);
}

TEST_CASE("the working directory and the way a path is written change no byte") {
    const Shelf shelf;
    fill(shelf);
    shelf.write(".sidelint.yaml", "effort: draft\n");
    const std::vector<std::string> check{"check", "--format", "json"};
    const auto with = [&](const std::string& path) {
        auto arguments = check;
        arguments.push_back(path);
        return arguments;
    };
    const std::string from_root = shelf.run(with("sets")).out;
    CHECK(holds(from_root, "\"sets/0.yaml\""));
    CHECK(shelf.run(with("./sets/")).out == from_root);
    CHECK(shelf.run(with("sets/../sets")).out == from_root);
    CHECK(shelf.run(with((shelf.path() / "sets").string())).out == from_root);
    CHECK(harness::run_in(shelf.path() / "sets", check).out == from_root);
    CHECK(harness::run_in(shelf.path() / "sets", with("../sets")).out == from_root);
    auto twice = with("sets");
    twice.push_back("sets/0.yaml");
    CHECK(shelf.run(twice).out == from_root);
}

TEST_CASE("line ends change no finding and no column") {
    const Shelf lf;
    const Shelf crlf;
    const std::string text = puzzles({cooked("one"), sound("two")});
    std::string with_cr;
    for (const char c : text) {
        with_cr += c == '\n' ? "\r\n" : std::string(1, c);
    }
    lf.write("a.yaml", text);
    crlf.write("a.yaml", with_cr);
    CHECK(lf.run({"check"}).out == crlf.run({"check"}).out);
}

TEST_CASE("--detail puzzles tells of every puzzle, in order") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one"), sound("two")}));
    CHECK_FALSE(harness::json_of(shelf.run({"check", "--format", "json"})).contains("puzzles"));
    const auto json = harness::json_of(shelf.run({"check", "--format", "json", "--detail", "puzzles"}));
    REQUIRE(json["puzzles"].size() == 2);
    CHECK(json["puzzles"][0]["id"] == "one");
    CHECK(json["puzzles"][1]["id"] == "two");
    CHECK(json["puzzles"][1]["key"]["san"] == "Rd8#");
    CHECK(json["puzzles"][1]["key"]["mate_in"] == 1);
    CHECK(json["puzzles"][1]["key"]["certainty"] == "proved");
    CHECK(json["puzzles"][1]["goal"] == "mate in 1");
    CHECK(json["summary"]["puzzles"] == 2);
    CHECK(json["summary"]["files"] == 1);
}

TEST_CASE("every format at once, each into its file") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one"), sound("two")}));
    std::vector<std::string> arguments{"check"};
    for (const char* format : formats) {
        arguments.push_back("--format");
        arguments.push_back(format + std::string("=out.") + format);
    }
    const auto ran = shelf.run(arguments);
    CHECK(ran.status == 1);
    CHECK(ran.out.empty());
    for (const char* format : formats) {
        INFO(format);
        CHECK(holds(shelf.read(std::string("out.") + format), "key/cook"));
        CHECK(shelf.read(std::string("out.") + format) == shelf.run({"check", "--format", format}).out);
    }
    CHECK(holds(shelf.read("out.junit"), "<testcase name=\"two\"")); // a puzzle without a finding passes
    CHECK(harness::json_of(shelf.run(
              {"check", "--format", "sarif"}))["runs"][0]["invocations"][0]["executionSuccessful"] == true);
}

TEST_CASE("annotations go beside text on standard output, nothing goes beside what programs read") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one")}));
    const auto both = shelf.run({"check", "--format", "text", "--format", "annotations"});
    CHECK(both.status == 1);
    CHECK(holds(both.out, "error key/cook: "));
    CHECK(holds(both.out, "\n::error file=a.yaml,line="));
    CHECK(shelf.run({"check", "--format", "text", "--format", "json"}).status == 2);
    CHECK(shelf.run({"check", "--format", "json", "--format", "annotations"}).status == 2);
    CHECK(shelf.run({"check", "--format", "annotations", "--format", "annotations"}).status == 2);
}

TEST_CASE("a job's summary is added to, other files are written anew") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one")}));
    shelf.write("summary.md", "what was there\n");
    const std::string path = (shelf.path() / "summary.md").string();
    const std::vector<std::string> check{"check", "--format", "markdown=" + path};
    CHECK(shelf.run(check, {{"GITHUB_STEP_SUMMARY", path}}).status == 1);
    CHECK(holds(shelf.read("summary.md"), "what was there\n## sidelint"));
    CHECK(shelf.run(check, {{"GITHUB_STEP_SUMMARY", "elsewhere"}}).status == 1);
    CHECK(shelf.read("summary.md").starts_with("## sidelint"));
}

TEST_CASE("SARIF: the category, and a run that could not read everything") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one")}));
    std::filesystem::create_symlink("loop.yaml", shelf.path() / "loop.yaml");
    const auto ran = shelf.run({"check", "--format", "sarif", "--sarif-category", "part-1"});
    const auto run = harness::json_of(ran)["runs"][0];
    CHECK(run["automationDetails"]["id"] == "part-1/");
    CHECK((run["invocations"][0]["executionSuccessful"] == true) == (ran.status != 3));
    CHECK(run["results"].size() >= 1);
}

TEST_CASE("--overview counts the puzzles that were checked") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one"), sound("two")}));
    const auto json = harness::json_of(shelf.run({"check", "--overview", "--format", "json"}));
    CHECK_FALSE(json.contains("puzzles")); // only counted
    CHECK(json["overview"][0]["rows"] == nlohmann::json::parse(R"([{"name": "a.yaml", "puzzles": 2}])"));
    CHECK(json["overview"][4]["rows"] == nlohmann::json::parse(R"([{"name": "1 move", "puzzles": 2}])"));
    CHECK(holds(shelf.run({"check", "--overview", "-q"}).out, "    back-rank-mate"));
    CHECK_FALSE(holds(shelf.run({"check"}).out, "Overview"));
}

TEST_CASE("--limit and --men") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one"), cooked("two"), cooked("three")}));
    const auto one = shelf.run({"check", "--limit", "1", "--rule", "set/*=off", "--rule", "theme/*=off"});
    CHECK(holds(one.out, "Left out: 2 findings of rules with more than 1"));
    CHECK(holds(one.out, "3 errors"));
    CHECK_FALSE(holds(shelf.run({"check", "--limit", "0"}).out, "Left out"));
    CHECK(shelf.run({"check", "--limit", "many"}).status == 2);
    CHECK(shelf.run({"check", "--limit", ""}).status == 1);
    CHECK(holds(shelf.run({"check", "--men", "figurines"}).out, "\xE2\x99\x9A"));
    CHECK(shelf.run({"check", "--men", "pictures"}).status == 2);
}

TEST_CASE("width: only of a terminal, COLUMNS before what it says") {
    using Variables = std::map<std::string, std::string, std::less<>>;
    std::ostringstream sink;
    const auto width = [&](app::Terminal terminal, std::size_t columns, const Variables& variables) {
        return app::width_for({sink, sink, terminal, app::Terminal::no, columns}, {variables, "/", 1});
    };
    const auto yes = app::Terminal::yes;
    CHECK(width(app::Terminal::no, 80, {{"COLUMNS", "60"}}) == 0);
    CHECK(width(yes, 0, {}) == 0);
    CHECK(width(yes, 80, {}) == 80);
    CHECK(width(yes, 80, {{"COLUMNS", "60"}}) == 60);
    CHECK(width(yes, 80, {{"COLUMNS", ""}}) == 80);
    CHECK(width(yes, 80, {{"COLUMNS", "0"}}) == 80);
    CHECK(width(yes, 80, {{"COLUMNS", "wide"}}) == 80);
    CHECK(width(yes, 80, {{"COLUMNS", "3"}}) == 40);
}

TEST_CASE("an excerpt of a long line shows the place, not the line's start") {
    const Shelf shelf;
    shelf.write("a.pgn", "[FEN \"7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 1\"]\n[Goal \"mate in 1\"]\n\n{" +
                             std::string(300, '-') + "} 1. Ra8# *\n");
    const std::string out = shelf.run({"check"}).out;
    CHECK(holds(out, "-----} 1. Ra8# *\n"));
    const std::size_t line = out.find("} 1. Ra8# *\n");
    const std::size_t start = out.rfind('\n', line) + 1;
    const std::size_t under = out.find('\n', line) + 1;
    CHECK(out.compare(start, 12, "     4 | ...") == 0);
    CHECK(out.find("Ra8#", start) - start == out.find('^', under) - under);
}

TEST_CASE("-q: findings only") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one")}));
    shelf.write("good/b.yaml", puzzles({sound("two")}));
    const auto bad = shelf.run({"check", "-q", "a.yaml"});
    CHECK(holds(bad.out, "key/cook"));
    CHECK_FALSE(holds(bad.out, "Checked"));
    CHECK(shelf.run({"check", "-q", "--rule", "theme/*=off", "good"}).out.empty());
}

TEST_CASE("colour: what was asked for, then the environment, then the terminal") {
    using app::ColourChoice;
    using report::Colour;
    using Variables = std::map<std::string, std::string, std::less<>>;
    std::ostringstream sink;
    const auto chosen = [&](ColourChoice choice, app::Terminal terminal, const Variables& variables) {
        return app::colour_for(choice, {sink, sink, terminal, app::Terminal::no}, {variables, "/", 1});
    };
    const auto yes = app::Terminal::yes;
    const auto no = app::Terminal::no;
    CHECK(chosen(ColourChoice::automatic, yes, {}) == Colour::yes);
    CHECK(chosen(ColourChoice::automatic, no, {}) == Colour::no);
    CHECK(chosen(ColourChoice::automatic, no, {{"CI", "true"}}) == Colour::no);
    CHECK(chosen(ColourChoice::automatic, yes, {{"TERM", "dumb"}}) == Colour::no);
    CHECK(chosen(ColourChoice::automatic, yes, {{"NO_COLOR", "1"}}) == Colour::no);
    CHECK(chosen(ColourChoice::automatic, yes, {{"NO_COLOR", ""}}) == Colour::yes);
    CHECK(chosen(ColourChoice::automatic, no, {{"CLICOLOR_FORCE", "1"}}) == Colour::yes);
    CHECK(chosen(ColourChoice::automatic, no, {{"CLICOLOR_FORCE", "0"}}) == Colour::no);
    CHECK(chosen(ColourChoice::automatic, no, {{"CLICOLOR_FORCE", "1"}, {"NO_COLOR", "1"}}) == Colour::no);
    CHECK(chosen(ColourChoice::always, no, {{"NO_COLOR", "1"}}) == Colour::yes);
    CHECK(chosen(ColourChoice::never, yes, {{"CLICOLOR_FORCE", "1"}}) == Colour::no);

    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one")}));
    CHECK(
        holds(shelf.run({"check", "--colour", "always", "--format", "text", "--format", "text=out.txt"}).out,
              "\x1b[1;31merror"));
    CHECK_FALSE(holds(shelf.read("out.txt"), "\x1b"));
    CHECK_FALSE(holds(shelf.run({"check"}).out, "\x1b"));
}

TEST_CASE("hostile ids, texts and file names stay text in every format and on standard error") {
    const Shelf shelf;
    const std::string name = "sets/##[x]::error::\x1b[2J\xE2\x80\xAE"
                             "a.yaml";
    shelf.write(
        name,
        "puzzles:\n  - id: \"::error::##[set-output name=x]\\e[31m\\u202e]]><script>|%0A\"\n"
        "    fen: \"7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 1\"\n    goal: mate in 1\n    solution: \"1.Ra8#\"\n"
        "    themes: [\"::warning::##[group]x\"]\n");
    shelf.write("sets/::error::b.pgn", "\xff::error::\n##[group]{ \x1b]0;x\x07 1. e4 ::error::");
    std::filesystem::create_symlink("nowhere", shelf.path() / "::error::link.pgn");
    for (const char* format : formats) {
        const auto ran = shelf.run({"check", "--format", format});
        CHECK(ran.status == 1);
        CHECK(holds(ran.out, "key/cook"));
        for (const std::string& written : {ran.out, ran.err}) {
            CHECK_FALSE(holds(written, "\x1b"));
            CHECK_FALSE(holds(written, "##["));
            CHECK_FALSE(holds(written, "\xE2\x80\xAE"));
            CHECK_FALSE(holds(written, "\x07"));
            std::istringstream lines(written);
            for (std::string line; std::getline(lines, line);) {
                const std::size_t start = line.find_first_not_of(" \t");
                const bool ours =
                    std::string_view(format) == "annotations" &&
                    std::regex_search(line, std::regex("^::(error|warning|notice) file=[^:]*,line="));
                CHECK((ours || start == std::string::npos || line.compare(start, 2, "::") != 0));
            }
        }
    }
    const auto usage = shelf.run({"check", "::error::\x1b[2J"});
    CHECK(usage.status == 2);
    CHECK_FALSE(holds(usage.err, "\x1b"));
}

TEST_CASE("progress: after a second, on a terminal only, and erased at the end") {
    std::ostringstream shown;
    std::ostringstream hidden;
    {
        app::Progress on_terminal(shown, app::Progress::Shown::yes);
        app::Progress elsewhere(hidden, app::Progress::Shown::no);
        on_terminal.expect(3);
        elsewhere.expect(3);
        on_terminal.advance();
        CHECK(shown.str().empty());
        std::this_thread::sleep_for(std::chrono::milliseconds(1100));
        on_terminal.advance();
        elsewhere.advance();
        CHECK(shown.str() == "\r\x1b[Kchecked 2 of 3 puzzles");
    }
    CHECK(shown.str() == "\r\x1b[Kchecked 2 of 3 puzzles\r\x1b[K");
    CHECK(hidden.str().empty());
}
