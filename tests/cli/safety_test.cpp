// Runs that are killed, that find the disk full, or that meet another one: nothing is lost and nothing is
// half written. The real program, since it is the process that dies.
#include "harness.hpp"

#include "app/memory.hpp"
#include "holds.hpp"

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <sqlite3.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

using harness::count;
using harness::puzzles;
using harness::Shelf;

namespace fs = std::filesystem;

namespace {

using Clock = std::chrono::steady_clock;

/// Starts the program with its output in a file of the shelf.
pid_t start(const Shelf& shelf, const std::vector<std::string>& words, const std::string& out) {
    std::vector<char*> arguments;
    std::string program = SIDELINT_PROGRAM;
    arguments.push_back(program.data());
    for (const std::string& word : words) {
        arguments.push_back(const_cast<char*>(word.c_str())); // NOLINT: as exec has it
    }
    arguments.push_back(nullptr);
    const pid_t child = ::fork();
    if (child == 0) {
        const int file = ::open((shelf.path() / out).c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
        if (::chdir((shelf.path() / "work").c_str()) == 0 && ::setenv("HOME", shelf.path().c_str(), 1) == 0 &&
            ::unsetenv("XDG_CACHE_HOME") == 0) {
            ::dup2(file, STDOUT_FILENO);
            ::dup2(file, STDERR_FILENO);
            ::execv(program.c_str(), arguments.data());
        }
        ::_exit(99);
    }
    return child;
}

/// Its exit status, or the signal that ended it below zero.
int wait_for(pid_t child) {
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFSIGNALED(status) ? -WTERMSIG(status) : WEXITSTATUS(status);
}

/// Kills it at the given part of the time a whole run takes.
int run_and_kill(const Shelf& shelf, const std::vector<std::string>& words, Clock::duration whole, int part,
                 int of) {
    const pid_t child = start(shelf, words, "killed.out");
    std::this_thread::sleep_for(whole * part / of);
    ::kill(child, SIGKILL);
    return wait_for(child);
}

/// In a shell that lets no file grow beyond so many blocks of 512 bytes: writing more fails as on a full
/// disk.
int run_on_full_disk(const Shelf& shelf, const std::string& words, int blocks) {
    const std::string command = "cd '" + (shelf.path() / "work").string() + "' && (trap '' XFSZ; ulimit -f " +
                                std::to_string(blocks) + "; HOME='" + shelf.path().string() +
                                "' exec '" SIDELINT_PROGRAM "' " + words + ") 2>'" +
                                (shelf.path() / "err").string() + "' | cat >'" +
                                (shelf.path() / "out").string() + "'; exit \"${PIPESTATUS[0]}\"";
    std::string quoted;
    for (const char c : command) {
        quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
    }
    const int status = std::system(("bash -c '" + quoted + "'").c_str());
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

std::string wrong_file(int number) {
    return puzzles(
        {"  - id: p" + std::to_string(number) +
         "\n    fen: \"6k1/5ppp/8/8/8/8/5PPP/3R2K1 w KQ - 0 1\"\n    goal: mate in 1\n    solution: "
         "\"1. Rd8+\"\n    allow: [{rule: set/duplicate-position, why: all of them are}]\n"});
}

std::string corrected(std::string text) {
    text.replace(text.find("KQ - 0"), 2, "-");
    text.replace(text.find("Rd8+"), 4, "Rd8#");
    return text;
}

std::string name_of(int number) {
    return "work/" + std::to_string(number) + ".yaml";
}

constexpr int files = 40;

void write_wrong_files(const Shelf& shelf) {
    for (int i = 0; i < files; ++i) {
        shelf.write(name_of(i), wrong_file(i));
    }
}

const std::vector<std::string> fix_draft{"fix", "--effort", "draft"};
const std::vector<std::string> check_draft{"check",    "--effort", "draft",    "--cache", "../kept",
                                           "--format", "json",     "--detail", "puzzles"};

std::string integrity(const fs::path& file) {
    sqlite3* database = nullptr;
    std::string told;
    if (sqlite3_open(file.c_str(), &database) == SQLITE_OK) {
        const auto take = [](void* into, int, char** values, char**) {
            *static_cast<std::string*>(into) += values[0];
            return 0;
        };
        sqlite3_exec(database, "PRAGMA integrity_check", take, &told, nullptr);
    }
    sqlite3_close(database);
    return told;
}

} // namespace

TEST_CASE(
    "fix: killed at any moment, every file is what it was or what it shall be, and the next run ends it") {
    const Shelf shelf;
    write_wrong_files(shelf);
    const auto begin = Clock::now();
    REQUIRE(wait_for(start(shelf, fix_draft, "whole.out")) == 0);
    const auto whole = Clock::now() - begin;
    CHECK(shelf.read(name_of(0)) == corrected(wrong_file(0)));
    constexpr int rounds = 12;
    int killed = 0;
    for (int round = 1; round <= rounds; ++round) {
        write_wrong_files(shelf);
        killed += run_and_kill(shelf, fix_draft, whole, round, rounds) == -SIGKILL ? 1 : 0;
        for (int i = 0; i < files; ++i) {
            const std::string text = shelf.read(name_of(i));
            CHECK((text == wrong_file(i) || text == corrected(wrong_file(i))));
        }
    }
    CHECK(killed > 0); // else it has shown nothing
    REQUIRE(wait_for(start(shelf, fix_draft, "last.out")) == 0);
    for (int i = 0; i < files; ++i) {
        CHECK(shelf.read(name_of(i)) == corrected(wrong_file(i)));
    }
    // What a killed run left beside a file goes when that file is written again.
    write_wrong_files(shelf);
    REQUIRE(wait_for(start(shelf, fix_draft, "last.out")) == 0);
    CHECK(std::distance(fs::directory_iterator(shelf.path() / "work"), fs::directory_iterator()) == files);
}

TEST_CASE("check: killed at any moment, its memory is whole and the next run tells the same") {
    const Shelf shelf;
    write_wrong_files(shelf);
    auto without = check_draft;
    without[3] = "--no-cache";
    without.erase(without.begin() + 4);
    const auto begin = Clock::now();
    const int status = wait_for(start(shelf, without, "expected.out"));
    const auto whole = Clock::now() - begin;
    const std::string expected = shelf.read("expected.out");
    REQUIRE(holds(expected, "\"p39\""));
    constexpr int rounds = 12;
    int killed = 0;
    for (int round = 1; round <= rounds; ++round) {
        if (round % 3 == 1) {
            fs::remove_all(shelf.path() / "kept"); // so that there is something to be written
        }
        killed += run_and_kill(shelf, check_draft, whole, round, rounds) == -SIGKILL ? 1 : 0;
        if (fs::exists(shelf.path() / "kept/findings.sqlite")) {
            CHECK(integrity(shelf.path() / "kept/findings.sqlite") == "ok");
        }
        CHECK(app::Memory(shelf.path() / "kept").works());
        CHECK(wait_for(start(shelf, check_draft, "next.out")) == status);
        CHECK(shelf.read("next.out") == expected);
    }
    CHECK(killed > 0);
}

TEST_CASE("check: several programs at once on one memory that is not there yet") {
    const Shelf shelf;
    write_wrong_files(shelf);
    for (int round = 0; round < 4; ++round) {
        fs::remove_all(shelf.path() / "kept");
        std::vector<pid_t> children;
        for (int i = 0; i < 4; ++i) {
            children.push_back(start(shelf, check_draft, "out" + std::to_string(i)));
        }
        for (const pid_t child : children) {
            CHECK(wait_for(child) == 1);
        }
        for (int i = 1; i < 4; ++i) {
            CHECK(shelf.read("out" + std::to_string(i)) == shelf.read("out0"));
        }
        CHECK(integrity(shelf.path() / "kept/findings.sqlite") == "ok");
        CHECK(app::Memory(shelf.path() / "kept").works());
    }
}

TEST_CASE("fix: two programs at once on the same files") {
    const Shelf shelf;
    write_wrong_files(shelf);
    const pid_t one = start(shelf, fix_draft, "one.out");
    const pid_t other = start(shelf, fix_draft, "other.out");
    // A file that one has corrected between the other's reading and writing is told, not written over.
    for (const pid_t child : {one, other}) {
        const int status = wait_for(child);
        CHECK((status == 0 || status == 3));
    }
    for (int i = 0; i < files; ++i) {
        CHECK(shelf.read(name_of(i)) == corrected(wrong_file(i)));
    }
    CHECK(std::distance(fs::directory_iterator(shelf.path() / "work"), fs::directory_iterator()) == files);
}

TEST_CASE("a full disk: no answer changes, and no file that was there") {
    const Shelf shelf;
    write_wrong_files(shelf);
    shelf.write("work/large.yaml", wrong_file(99) + "# " + std::string(20'000, 'x') + '\n');
    REQUIRE(run_on_full_disk(shelf, "check --effort draft --no-cache", 1'000'000) == 1);
    const std::string expected = shelf.read("out");
    CHECK(count(expected, ": error setup/castling-rights") == files + 1);

    CHECK(run_on_full_disk(shelf, "check --effort draft --cache ../kept", 8) == 1); // 4 KiB: no memory fits
    CHECK(shelf.read("out") == expected);
    CHECK(run_on_full_disk(shelf, "check --effort draft --cache ../kept", 128) ==
          1); // it breaks off in the middle
    CHECK(shelf.read("out") == expected);
    CHECK(run_on_full_disk(shelf, "check --effort draft --cache ../kept", 1'000'000) == 1);
    CHECK(shelf.read("out") == expected);
    CHECK(app::Memory(shelf.path() / "kept").works());

    shelf.write("work/report.json", "the last report");
    CHECK(run_on_full_disk(shelf, "check --effort draft --no-cache --format text --format json=report.json",
                           8) == 3);
    CHECK(shelf.read("out") == expected);
    CHECK(holds(shelf.read("err"), "cannot write the report"));
    CHECK(shelf.read("work/report.json") == "the last report");
    fs::remove(shelf.path() / "work/report.json");

    const std::string large = shelf.read("work/large.yaml");
    CHECK(run_on_full_disk(shelf, "fix --effort draft", 8) == 3);
    CHECK(holds(shelf.read("err"), "large.yaml: cannot be written, and is left as it was"));
    CHECK(shelf.read("work/large.yaml") == large);
    CHECK(shelf.read(name_of(0)) == corrected(wrong_file(0))); // there was room for that one
    CHECK(std::distance(fs::directory_iterator(shelf.path() / "work"), fs::directory_iterator()) ==
          files + 1);
}
