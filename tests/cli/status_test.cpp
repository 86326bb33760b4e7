#include "app/output.hpp"
#include "app/status.hpp"
#include "app/version.hpp"
#include "harness.hpp"
#include "holds.hpp"

#include <fstream>
#include <iterator>
#include <regex>

using app::Error;
using harness::cooked;
using harness::puzzles;
using harness::run_in;
using harness::Shelf;
using harness::sound;

TEST_CASE("the status is a function of errors and gate: 3 outranks 2 outranks 1") {
    const auto of = [](std::vector<Error::Kind> kinds, app::Gate gate) {
        std::vector<Error> errors;
        for (const Error::Kind kind : kinds) {
            errors.push_back({kind, "x", "", ""});
        }
        return app::exit_status(errors, gate);
    };
    using Kind = Error::Kind;
    CHECK(of({}, app::Gate::passed) == 0);
    CHECK(of({}, app::Gate::failed) == 1);
    CHECK(of({Kind::usage}, app::Gate::failed) == 2);
    CHECK(of({Kind::config}, app::Gate::passed) == 2);
    CHECK(of({Kind::io}, app::Gate::failed) == 3);
    CHECK(of({Kind::repository}, app::Gate::passed) == 3);
    CHECK(of({Kind::internal}, app::Gate::passed) == 3);
    CHECK(of({Kind::usage, Kind::io}, app::Gate::passed) == 3);
}

TEST_CASE("check: 0 when all is well, 1 with an error") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({sound("one")}));
    const auto good = shelf.run({"check"});
    CHECK(good.status == 0);
    CHECK(good.err.empty());
    CHECK(holds(good.out, "Checked 1 puzzle in 1 file (review effort): 0 errors, 0 warnings,"));
    shelf.write("b.yaml", puzzles({cooked("two")}));
    const auto bad = shelf.run({"check"});
    CHECK(bad.status == 1);
    CHECK(holds(bad.out, "b.yaml:6:18: error key/cook: Qd8# "));
    CHECK(shelf.run({"check", "a.yaml"}).status == 0);
}

TEST_CASE("check: the gate") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one")}));
    CHECK(shelf.run({"check", "--fail-on", "never"}).status == 0);
    CHECK(shelf.run({"check", "--fail-on=note"}).status == 1);
    CHECK(shelf.run({"check", "--rule", "key/cook=warning"}).status == 0);
    CHECK(shelf.run({"check", "--rule", "key/cook=warning", "--fail-on", "warning"}).status == 1);
    CHECK(
        shelf.run({"check", "--rule", "key/*=note", "--rule", "set/*=off", "--fail-on", "warning"}).status ==
        0);
    const auto off = shelf.run({"check", "--rule", "key/cook=off", "--fail-on", "error"});
    CHECK(off.status == 0);
    CHECK_FALSE(holds(off.out, "key/cook"));
    const auto unknown = shelf.run({"check", "--rule", "key/cok=off"});
    CHECK(unknown.status == 2);
    CHECK(holds(unknown.err, "unknown rule 'key/cok'"));
    CHECK(holds(unknown.err, "did you mean key/cook"));
}

TEST_CASE("check: nothing to check is wrong use unless it is allowed") {
    const Shelf shelf;
    shelf.write("notes.txt", "no puzzles here");
    shelf.write("sets/.keep", "");
    const auto nothing = shelf.run({"check", "sets"});
    CHECK(nothing.status == 2);
    CHECK(holds(nothing.err, "no puzzle file in sets"));
    CHECK(nothing.out.empty());
    CHECK(shelf.run({"check", "--allow-empty"}).status == 0);
    CHECK(shelf.run({"check", "notes.txt"}).status == 2);
    const auto missing = shelf.run({"check", "--allow-empty", "nowhere.pgn", "nor/here"});
    CHECK(missing.status == 2);
    CHECK(holds(missing.err, "sidelint: nowhere.pgn: no such file or folder\n"));
    CHECK(holds(missing.err, "sidelint: nor/here: no such file or folder\n"));
}

TEST_CASE("wrong use is told with what comes near") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({sound("one")}));
    const auto told = [&](const std::vector<std::string>& arguments, const std::string& message,
                          const std::string& cure) {
        const auto ran = shelf.run(arguments);
        INFO(ran.err);
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
        CHECK(ran.err.starts_with("sidelint: "));
        CHECK(holds(ran.err, message));
        CHECK(holds(ran.err, cure));
    };
    told({}, "no command is named", "sidelint --help");
    told({"chek"}, "unknown command 'chek'", "did you mean check?");
    told({"check", "--efort=press"}, "--efort", "did you mean --effort?");
    told({"check", "--effort", "reveiw"}, "'reveiw' is none of draft, review, press", "did you mean review?");
    told({"check", "--format", "jsn"}, "'jsn' is none of text, brief, json", "did you mean json?");
    told({"check", "--format", "json="}, "no file is named", "json=report.json");
    told({"check", "--format", "json", "--format", "text"}, "only one --format", "name files");
    told({"check", "--fail-on", "eror"}, "'eror'", "did you mean error?");
    told({"check", "--jobs", "0"}, "'0' is no number from 1", "");
    told({"check", "--jobs", "many"}, "'many'", "");
    told({"check", "--rule", "key/cook"}, "no level is named", "key/cook=warning");
    told({"check", "--rule", "key/cook=loud"}, "'loud'", "");
    told({"check", "--staged", "--commit", "HEAD"}, "exclude each other", "");
    told({"schema", "reprot"}, "'reprot'", "did you mean report?");
    told({"check", "../elsewhere-that-is-not-here"}, "elsewhere-that-is-not-here", "");
}

TEST_CASE("check: a file that cannot be read ends in 3, and the others are checked") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one")}));
    shelf.write("big.pgn", "");
    std::filesystem::resize_file(shelf.path() / "big.pgn",
                                 collection::max_file_bytes + 1); // all hole, no blocks
    const auto ran = shelf.run({"check"});
    CHECK(ran.status == 3);
    CHECK(holds(ran.out, "a.yaml:6:18: error key/cook"));
    CHECK(holds(ran.out, "big.pgn:1:1: error file/unreadable: cannot be read: it is longer than 256 MiB"));
    CHECK(holds(ran.out, "Checked 1 puzzle in 1 file "));
    CHECK(ran.err == "sidelint: big.pgn: cannot be read: it is longer than 256 MiB\n");
    const auto off = shelf.run({"check", "--rule", "file/unreadable=off", "--fail-on", "never"});
    CHECK(off.status == 3); // no level makes a run whole that was not
    CHECK_FALSE(holds(off.out, "file/unreadable"));
}

TEST_CASE("check: the only file cannot be read") {
    const Shelf shelf;
    shelf.write("big.epd", "");
    std::filesystem::resize_file(shelf.path() / "big.epd", collection::max_file_bytes + 1);
    const auto ran = shelf.run({"check", "big.epd", "--format", "json"});
    CHECK(ran.status == 3);
    const auto json = harness::json_of(ran);
    CHECK(json["summary"]["files"] == 0);
    REQUIRE(json["findings"].size() == 1);
    CHECK(json["findings"][0]["rule"] == "file/unreadable");
    CHECK(json["findings"][0]["file"] == "big.epd");
}

TEST_CASE("check: links are told and not followed") {
    const Shelf outside;
    outside.write("secret.yaml", puzzles({cooked("secret")}));
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({sound("one")}));
    std::filesystem::create_symlink(outside.path() / "secret.yaml", shelf.path() / "link.yaml");
    std::filesystem::create_directory_symlink(outside.path(), shelf.path() / "folder");
    std::filesystem::create_symlink("nowhere", shelf.path() / "broken.pgn");
    std::filesystem::create_directory_symlink(".", shelf.path() / "loop");
    const auto ran = shelf.run({"check"});
    CHECK(ran.status == 0);
    CHECK(holds(ran.out, "Remark: link.yaml: a link, not followed"));
    CHECK(holds(ran.out, "Remark: folder: a link, not followed"));
    CHECK(holds(ran.out, "Remark: broken.pgn: a link, not followed"));
    CHECK(holds(ran.out, "Remark: loop: a link, not followed"));
    CHECK_FALSE(holds(ran.out, "secret.yaml:"));
    for (const char* path :
         {"link.yaml", "folder", "folder/secret.yaml", "loop/a.yaml", "./loop/../link.yaml"}) {
        const auto named = shelf.run({"check", path});
        CHECK(named.status == 2);
        CHECK(holds(named.err, "links are not followed"));
        CHECK(named.out.empty());
    }
}

TEST_CASE("reports: several at once, each whole; what cannot be written ends in 3") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one")}));
    const auto ran =
        shelf.run({"check", "--format", "text", "--format", "json=out.json", "--format", "brief=out.txt"});
    CHECK(ran.status == 1);
    CHECK(holds(ran.out, "key/cook"));
    CHECK(nlohmann::json::parse(shelf.read("out.json"))["summary"]["findings"]["error"] == 1);
    CHECK(holds(shelf.read("out.txt"), "a.yaml:6:18: error key/cook"));
    CHECK_FALSE(std::filesystem::exists(shelf.path() / "out.json.0.part"));

    const auto folder = shelf.run({"check", "--format", "json=no/such/folder.json"});
    CHECK(folder.status == 3);
    CHECK(holds(folder.err, "cannot write the report"));
    std::filesystem::create_directory(shelf.path() / "taken");
    CHECK(shelf.run({"check", "--format", "json=taken"}).status == 3);
}

TEST_CASE("reports: a planted name is neither followed nor overwritten") {
    const Shelf outside;
    outside.write("mine.txt", "untouched");
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({sound("one")}));
    std::filesystem::create_symlink(outside.path() / "mine.txt", shelf.path() / "out.json.0.part");
    std::filesystem::create_symlink(outside.path() / "mine.txt", shelf.path() / "out.json");
    CHECK(shelf.run({"check", "--format", "json=out.json"}).status == 0);
    CHECK(outside.read("mine.txt") == "untouched");
    CHECK(nlohmann::json::parse(shelf.read("out.json"))["summary"]["puzzles"] == 1);
}

TEST_CASE("reports: standard output that takes nothing ends in 3") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({sound("one")}));
    std::ofstream full("/dev/full"); // Linux: every write fails for want of room
    if (!full.is_open()) {
        return;
    }
    std::ostringstream err;
    const std::vector<std::string> arguments{"check"};
    const int status = app::run(arguments, {full, err}, {{}, shelf.path().string(), 1});
    CHECK(status == 3);
    CHECK(holds(err.str(), "standard output"));
}

TEST_CASE("help and version") {
    const Shelf shelf;
    const auto version = shelf.run({"--version"});
    CHECK(version.status == 0);
    CHECK(version.out == "sidelint " + std::string(app::version) + '\n');
    const auto help = shelf.run({"--help"});
    CHECK(help.status == 0);
    CHECK(holds(help.out, "Examples:"));
    CHECK(holds(help.out, "Exit status:"));
    for (const char* command : {"check", "solve", "explain", "init", "schema"}) {
        CHECK(holds(help.out, command));
        CHECK(shelf.run({command, "--help"}).status == 0);
    }
    CHECK(holds(shelf.run({"check", "--help"}).out, "--fail-on"));
}

TEST_CASE("the version is the project's") {
    std::ifstream file(SIDELINT_SOURCE_DIR "/CMakeLists.txt");
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    std::smatch match;
    REQUIRE(std::regex_search(text, match, std::regex(R"(project\(sidelint VERSION (\S+))")));
    CHECK(match[1] == std::string(app::version));
}
