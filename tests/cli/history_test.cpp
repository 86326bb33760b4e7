// check against another state, on repositories made for the purpose.
#include "harness.hpp"
#include "holds.hpp"

#include <algorithm>
#include <filesystem>

using harness::cooked;
using harness::json_of;
using harness::puzzles;
using harness::run_in;
using harness::sound;
using harness::sound_too;

namespace {

using Arguments = std::vector<std::string>;

Arguments checking(Arguments more) {
    more.insert(more.begin(), {"check", "--effort", "draft", "--rule", "theme/*=off"});
    return more;
}

/// "new key/cook two" a finding, in order.
std::vector<std::string> told(const harness::Ran& ran) {
    std::vector<std::string> lines;
    const auto json = json_of(ran);
    for (const auto& finding : json["findings"]) {
        const std::string puzzle = finding["puzzle"].is_null() ? "-" : finding["puzzle"].get<std::string>();
        lines.push_back(finding["status"].get<std::string>() + ' ' + finding["rule"].get<std::string>() +
                        ' ' + puzzle);
    }
    return lines;
}

using Lines = std::vector<std::string>;

} // namespace

TEST_CASE("staged: the index is judged, not the worktree, and only what is new fails") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({cooked("old")})}}});
    const auto nothing = run_in(repository.root(), checking({"--staged"}));
    CHECK(nothing.status == 0);
    CHECK(holds(nothing.out, "Checked 0 puzzles in 0 files"));

    repository.stage({{"a.yaml", {puzzles({cooked("old"), cooked("fresh")})}}});
    repository.write("a.yaml", puzzles({sound("neither-staged-nor-committed")}));
    const auto ran = run_in(repository.root(), checking({"--staged", "--format", "json"}));
    CHECK(ran.status == 1);
    CHECK(told(ran) == Lines{"new set/duplicate-position fresh", "new key/cook fresh"});
    CHECK(json_of(ran)["summary"]["puzzles"] == 1);
    CHECK(run_in(repository.root(), checking({"--staged", "--fail-on", "never"})).status == 0);
}

TEST_CASE("commit: what it changes against its first parent: new, still and gone") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({cooked("mended"), sound_too("broken")})}},
                         {"b.yaml", {puzzles({cooked("elsewhere")})}}});
    std::string broken = sound_too("broken");
    broken.replace(broken.find("Re8#"), 4, "Re7");
    repository.check_in({{"a.yaml", {puzzles({sound("mended"), broken + "    themes: [x]\n"})}},
                         {"b.yaml", {puzzles({cooked("elsewhere")})}}});
    const auto ran = run_in(repository.root(), checking({"--commit", "HEAD", "--format", "json"}));
    const auto lines = told(ran);
    CHECK(std::count(lines.begin(), lines.end(), "gone key/cook mended") == 1);
    for (const std::string& line : lines) {
        CHECK_FALSE(holds(line, "key/cook elsewhere"));
    }
    const auto json = json_of(ran);
    CHECK(json["summary"]["history"]["gone"].get<int>() >= 1);
    CHECK(json["run"]["against"].get<std::string>().size() == 40);
    CHECK(json["summary"]["files"] == 1);

    const auto text = run_in(repository.root(), checking({"--commit", "HEAD"}));
    CHECK(holds(text.out, "Gone: "));
    CHECK(holds(text.out, "gone"));
}

TEST_CASE("commit: in a first commit everything is new") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({cooked("one")})}}});
    const auto ran = run_in(repository.root(), checking({"--commit", "HEAD", "--format", "json"}));
    CHECK(ran.status == 1);
    CHECK(told(ran) == Lines{"new key/cook one"});
    CHECK(json_of(ran)["run"]["against"].is_null());
    CHECK(holds(ran.err, "first commit"));
}

TEST_CASE("staged: before a first commit everything is new") {
    const scratch::Repository repository;
    repository.stage({{"a.yaml", {puzzles({cooked("one")})}}});
    const auto ran = run_in(repository.root(), checking({"--staged", "--format", "json"}));
    CHECK(ran.status == 1);
    CHECK(told(ran) == Lines{"new key/cook one"});
}

TEST_CASE("against: the worktree with a revision; an old finding still there does not fail") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({cooked("old")})}}});
    std::string edited = cooked("old");
    edited += "    source: retyped\n";
    repository.write("a.yaml", puzzles({edited, sound("more")}));
    const auto ran = run_in(repository.root(), checking({"--against", "HEAD", "--format", "json"}));
    const auto lines = told(ran);
    CHECK(ran.status == 0);
    CHECK(std::count(lines.begin(), lines.end(), "new key/cook old") == 0);
    repository.write("b.yaml", puzzles({cooked("untracked")}));
    const auto more = run_in(repository.root(), checking({"--against", "HEAD", "--format", "json"}));
    CHECK(more.status == 1);
    const auto more_lines = told(more);
    CHECK(std::count(more_lines.begin(), more_lines.end(), "new key/cook untracked") == 1);
}

TEST_CASE("against: one fault mended and one of the same kind added in one commit are one gone and one new") {
    scratch::Repository repository;
    const auto with_other_pawn = [](std::string entry) {
        entry.replace(entry.find("5ppp"), 4, "4pppp");
        return entry.replace(entry.find("4pppp"), 5, "5ppp"); // the same text: only the id differs
    };
    repository.check_in({{"a.yaml", {puzzles({cooked("a"), sound_too("b")})}}});
    std::string b = cooked("b");
    b.replace(b.find("R2Q2K1"), 6, "R2Q1K2");
    repository.check_in({{"a.yaml", {puzzles({sound("a"), with_other_pawn(b)})}}});
    const auto lines = told(
        run_in(repository.root(), checking({"--against", "HEAD~1", "--commit", "HEAD", "--format", "json"})));
    CHECK(std::count(lines.begin(), lines.end(), "gone key/cook a") == 1);
    CHECK(std::count(lines.begin(), lines.end(), "new key/cook b") == 1);
    CHECK(lines.size() == 2);
}

TEST_CASE("against: renaming and reflowing a file is no news and costs no search") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({cooked("one"), sound("two")})}}});
    repository.check_in({{"moved/b.yaml", {puzzles({"\n\n" + sound("two"), "# here\n" + cooked("one")})}}});
    const auto ran =
        run_in(repository.root(), checking({"--against", "HEAD~1", "--commit", "HEAD", "--format", "json"}));
    CHECK(ran.status == 0);
    CHECK(json_of(ran)["summary"]["puzzles"] == 0);
    CHECK(json_of(ran)["summary"]["history"]["new"] == 0);
}

TEST_CASE("against: a doubled id across files is new, wherever its twin stands") {
    scratch::Repository repository;
    const scratch::Files first{{"a.yaml", {puzzles({sound("same")})}},
                               {"z.yaml", {puzzles({cooked("old"), cooked("old")})}}};
    repository.check_in(first);
    scratch::Files second = first;
    second["b.yaml"] = {puzzles({sound_too("same")})};
    repository.check_in(second);
    const auto ran = run_in(repository.root(), checking({"--commit", "HEAD", "--format", "json"}));
    CHECK(ran.status == 1);
    CHECK(told(ran) == Lines{"new set/duplicate-id same"}); // and nothing of z.yaml, which nobody touched
}

TEST_CASE("against: paths narrow what is compared") {
    scratch::Repository repository;
    repository.check_in({{"sets/a.yaml", {puzzles({sound("one")})}}});
    repository.check_in(
        {{"sets/a.yaml", {puzzles({cooked("one")})}}, {"other/b.yaml", {puzzles({cooked("two")})}}});
    const auto lines =
        told(run_in(repository.root(), checking({"other", "--commit", "HEAD", "--format", "json"})));
    CHECK(std::count(lines.begin(), lines.end(), "new key/cook two") == 1);
    CHECK(std::count(lines.begin(), lines.end(), "new key/cook one") == 0);
    CHECK(run_in(repository.root(), checking({"nowhere", "--commit", "HEAD"})).status == 2);
    CHECK(run_in(repository.root(), checking({"nowhere", "--commit", "HEAD", "--allow-empty"})).status == 0);
    CHECK(run_in(repository.root() + "/sets", checking({"a.yaml", "--commit", "HEAD"})).status == 1);
}

TEST_CASE("against: both states are judged by the later configuration, and a looser one is told") {
    scratch::Repository repository;
    repository.check_in(
        {{".sidelint.yaml", {"rules: {key/cook: error}\n"}}, {"a.yaml", {puzzles({sound("one")})}}});
    repository.check_in(
        {{".sidelint.yaml", {"rules: {key/cook: note}\n"}}, {"a.yaml", {puzzles({cooked("one")})}}});
    repository.write(".sidelint.yaml", "rules: {key/cook: warning}\n"); // not committed: does not count
    const auto ran = run_in(repository.root(), checking({"--commit", "HEAD"}));
    CHECK(ran.status == 0);
    CHECK(holds(ran.out, "note key/cook"));
    CHECK(holds(ran.out, "Remark: .sidelint.yaml differs from that of "));
    CHECK(holds(ran.out, "less strict now: key/cook: error -> note"));
    CHECK(holds(ran.out,
                "by the earlier configuration 1 finding of what changed would be told, or told as graver"));
    const auto json = run_in(repository.root(), checking({"--commit", "HEAD", "--format", "json"}));
    CHECK(holds(json.err, "less strict now: key/cook: error -> note"));
    CHECK_FALSE(holds(run_in(repository.root(), checking({"--commit", "HEAD~1"})).out, "differs from"));
}

TEST_CASE("config-from: a revision's rules judge what a contribution brings, its own are told") {
    scratch::Repository repository;
    repository.check_in(
        {{".sidelint.yaml", {"rules: {key/cook: error}\n"}}, {"a.yaml", {puzzles({sound("one")})}}});
    repository.check_in(
        {{".sidelint.yaml", {"rules: {key/cook: \"off\"}\n"}}, {"a.yaml", {puzzles({cooked("one")})}}});
    const auto own = run_in(repository.root(), checking({"--commit", "HEAD"}));
    CHECK(own.status == 0);
    CHECK(holds(own.out, "by the earlier configuration 1 finding of what changed would be told"));
    const auto ran = run_in(repository.root(), checking({"--commit", "HEAD", "--config-from", "HEAD~1"}));
    CHECK(ran.status == 1);
    CHECK(holds(ran.out, "Remark: judged by the configuration of HEAD~1; that of HEAD differs; "
                         "less strict there: key/cook: error -> off"));
    CHECK(run_in(repository.root(), checking({})).status == 0); // without history too
    CHECK(run_in(repository.root(), checking({"--config-from", "HEAD~1"})).status == 1);
    CHECK(run_in(repository.root(), checking({"--config-from", "no-such-branch"})).status == 3);
    CHECK(run_in(repository.root(), checking({"--config-from", "HEAD", "--config", "x"})).status == 2);
}

TEST_CASE("against: a mistake in the later configuration ends in 2") {
    scratch::Repository repository;
    repository.check_in({{".sidelint.yaml", {"effort: draft\n"}}, {"a.yaml", {puzzles({sound("one")})}}});
    repository.check_in({{".sidelint.yaml", {"efort: draft\n"}}, {"a.yaml", {puzzles({cooked("one")})}}});
    const auto ran = run_in(repository.root(), checking({"--commit", "HEAD"}));
    CHECK(ran.status == 2);
    CHECK(holds(ran.err, ".sidelint.yaml:1:1: unknown key 'efort'"));
}

TEST_CASE("against: what cannot be found ends in 3 with the cure, never in silence") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({cooked("one")})}}});
    const auto ran = run_in(repository.root(), checking({"--against", "no-such-branch"}));
    CHECK(ran.status == 3);
    CHECK(ran.out.empty());
    CHECK(holds(ran.err, "no-such-branch"));
    const scratch::Folder outside;
    const auto none = run_in(outside.path(), checking({"--staged"}));
    CHECK(none.status == 3);
    CHECK(holds(none.err, "no git repository"));
}

TEST_CASE("against: a file whose bytes the repository has lost is a finding, and the others are checked") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({sound("one")})}}, {"b.yaml", {puzzles({sound_too("two")})}}});
    repository.check_in({{"a.yaml", {puzzles({cooked("one")})}}, {"b.yaml", {puzzles({cooked("two")})}}});
    history::ObjectHandle lost;
    REQUIRE(git_revparse_single(into(lost), repository.handle(), "HEAD:b.yaml") == 0);
    repository.forget(git_oid_tostr_s(git_object_id(lost.get())));
    const auto ran = run_in(repository.root(), checking({"--commit", "HEAD", "--format", "json"}));
    CHECK(ran.status == 3);
    const auto lines = told(ran);
    CHECK(std::count(lines.begin(), lines.end(), "new file/unreadable -") == 1);
    CHECK(std::count(lines.begin(), lines.end(), "new key/cook one") == 1);
    CHECK(json_of(ran)["summary"]["files"] == 1);
    CHECK(holds(ran.err, "cannot find the bytes of b.yaml: "));
}

TEST_CASE("against auto: says what it chose") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({sound("one")})}}});
    repository.check_in({{"a.yaml", {puzzles({cooked("one")})}}});
    const auto ran = run_in(repository.root(), checking({"--against", "auto"}));
    CHECK(ran.status == 1);
    CHECK(holds(ran.out, "Against "));
    const auto json = run_in(repository.root(), checking({"--against", "auto", "--format", "json"}));
    CHECK(holds(json.err, "sidelint: compared with "));
    CHECK(told(json).front() == "new key/cook one");
}

TEST_CASE("against auto: the commit before a push stands in the event's file") {
    scratch::Repository repository;
    const std::string before = repository.check_in({{"a.yaml", {puzzles({sound("one")})}}});
    repository.check_in({{"a.yaml", {puzzles({sound("one"), sound_too("two")})}}});
    repository.check_in({{"a.yaml", {puzzles({cooked("one"), sound_too("two")})}}});
    const harness::Shelf shelf;
    shelf.write(
        "event.json",
        R"({"head_commit": {"message": "say \"before\": \"1111111111111111111111111111111111111111\""},
                                  "before": ")" +
            before + R"(", "ref": "refs/heads/main"})");
    const auto ran = run_in(repository.root(), checking({"--against", "auto", "--format", "json"}),
                            {{"GITHUB_ACTIONS", "true"},
                             {"GITHUB_EVENT_NAME", "push"},
                             {"GITHUB_EVENT_PATH", (shelf.path() / "event.json").string()}});
    CHECK(json_of(ran)["run"]["against"] == before);
}

TEST_CASE("plain paths ask no repository: a broken one does not matter") {
    const harness::Shelf shelf;
    shelf.write(".git/HEAD", "rubbish");
    shelf.write("a.yaml", puzzles({sound("one")}));
    CHECK(shelf.run(checking({})).status == 0);
    CHECK(shelf.run(checking({"--staged"})).status == 3);
}

TEST_CASE("jobs change no byte of a comparison") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({cooked("a"), sound_too("b"), sound("c")})}}});
    repository.check_in({{"a.yaml", {puzzles({sound("a"), cooked("b"), cooked("d")})}}});
    const auto one = run_in(repository.root(), checking({"--commit", "HEAD", "--jobs", "1"}));
    const auto eight = run_in(repository.root(), checking({"--commit", "HEAD", "--jobs", "8"}));
    CHECK(one.out == eight.out);
    CHECK(one.status == 1);
}

TEST_CASE("fingerprints: what is found stays the same finding, however the puzzle is written and wherever it "
          "stands") {
    const harness::Shelf shelf;
    const auto fingerprints = [&] {
        std::vector<std::string> all;
        const auto json = json_of(shelf.run(checking({"--format", "json"})));
        for (const auto& finding : json["findings"]) {
            all.push_back(finding["rule"].get<std::string>() + ' ' +
                          finding["fingerprint"].get<std::string>());
        }
        std::sort(all.begin(), all.end());
        return all;
    };
    shelf.write("a.yaml", puzzles({cooked("one"), sound("two")}));
    const auto before = fingerprints();
    REQUIRE(before.size() == 1);
    const auto stays = [&](const std::string& path, const std::string& text) {
        std::filesystem::remove(shelf.path() / "a.yaml");
        shelf.write(path, text);
        CHECK(fingerprints() == before);
        std::filesystem::remove(shelf.path() / path);
    };
    const std::string reordered = puzzles({sound("two"), cooked("one")});
    std::string crlf;
    for (const char c : reordered) {
        crlf += c == '\n' ? "\r\n" : std::string(1, c);
    }
    stays("a.yaml", reordered);
    stays("a.yaml", crlf);
    stays("sets/renamed.yaml", puzzles({"\n# reflowed\n" + cooked("one"), sound_too("another")}));
    stays("a.pgn", "[PuzzleId \"one\"]\n[Goal \"mate in 1\"]\n[FEN \"7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 "
                   "1\"]\n\n1. Ra8# *\n");
    stays("a.yaml", puzzles({cooked("one") + "    source: retyped\n"}));
}

TEST_CASE("against: a file renamed and edited, a puzzle moved between files, a copy") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({cooked("one")})}}, {"b.yaml", {puzzles({sound_too("two")})}}});
    repository.check_in({{"c.yaml", {puzzles({cooked("one") + "    source: retyped\n"})}},
                         {"b.yaml", {puzzles({sound_too("two")})}}});
    const auto run = [&] {
        return run_in(repository.root(), checking({"--commit", "HEAD", "--format", "json"}));
    };
    CHECK(told(run()) == Lines{"still key/cook one"});
    repository.check_in({{"b.yaml", {puzzles({sound_too("two"), cooked("one") + "    source: retyped\n"})}}});
    CHECK(run().status == 0);
    repository.check_in({{"b.yaml", {puzzles({sound_too("two"), cooked("one") + "    source: retyped\n"})}},
                         {"d.yaml", {puzzles({cooked("copy")})}}});
    const auto lines = told(run());
    CHECK(std::count(lines.begin(), lines.end(), "new key/cook copy") == 1);
    CHECK(std::count(lines.begin(), lines.end(), "new key/cook one") == 0);
}

TEST_CASE(
    "against: folders remembered from run to run change no byte, along commits, back and across branches") {
    scratch::Repository repository;
    const scratch::Folder kept;
    scratch::Files files;
    for (int i = 0; i < 4; ++i) {
        const std::string n = std::to_string(i);
        files["sets/" + n + "/a.yaml"] = {puzzles({sound("a" + n)})};
        files["sets/" + n + "/deep/b.yaml"] = {puzzles({cooked("b" + n)})};
    }
    files["README.md"] = {"no puzzles"};
    std::vector<std::string> commits{repository.check_in(files)};
    const auto change = [&](const std::string& path, const std::string& text) {
        files[path] = {text};
        commits.push_back(repository.check_in(files));
    };
    change("sets/0/a.yaml", puzzles({sound_too("a3")}));      // an id that a file elsewhere has
    change("sets/3/deep/b.yaml", puzzles({sound_too("b3")})); // a position that the change before brought
    change("sets/1/deep/c.yaml", puzzles({cooked("c1")}));    // a file more
    change(".sidelint.yaml", "exclude: [\"sets/2/**\"]\n");   // fewer are looked at
    change("sets/1/a.yaml", puzzles({sound("b2")}));          // an id of what is excluded
    files.erase("sets/0/deep/b.yaml");
    commits.push_back(repository.check_in(files));
    const std::string side =
        repository.commit({{"sets/9/a.yaml", {puzzles({sound("a1")})}}}, {commits[2]}, nullptr);
    commits.push_back(side);
    commits.push_back(commits[1]); // back to one that was seen
    std::size_t doubled = 0;
    for (const std::string& commit : commits) {
        const Arguments words = checking({"--commit", commit, "--format", "json"});
        Arguments warm = words;
        warm.insert(warm.end(), {"--cache", kept.path()});
        Arguments cold = words;
        cold.emplace_back("--no-cache");
        const auto expected = run_in(repository.root(), cold);
        const auto first = run_in(repository.root(), warm);
        const auto again = run_in(repository.root(), warm);
        CHECK(first.out == expected.out);
        CHECK(again.out == expected.out);
        CHECK(first.status == expected.status);
        CHECK(first.err == expected.err);
        doubled += harness::count(expected.out, "\"set/duplicate");
    }
    CHECK(doubled > 3);
    repository.stage({{"sets/7/a.yaml", {puzzles({sound("a1")})}}});
    CHECK(run_in(repository.root(), checking({"--staged", "--cache", kept.path(), "--format", "json"})).out ==
          run_in(repository.root(), checking({"--staged", "--no-cache", "--format", "json"})).out);
}
