// Hooks with the real git: commits and pushes on paths of this machine.
#include "harness.hpp"
#include "holds.hpp"

#include <cstdlib>
#include <fstream>

using harness::cooked;
using harness::puzzles;
using harness::Ran;
using harness::run_in;
using harness::sound;
using harness::sound_too;

namespace fs = std::filesystem;

namespace {

const std::string zeros(40, '0');

/// A folder for repositories, with a `sidelint` to be found on the PATH.
class Desk {
  public:
    Desk() {
        fs::create_directories(path() / "bin");
        fs::create_symlink(SIDELINT_PROGRAM, path() / "bin/sidelint");
        git("", "init -q -b main work");
        git("", "init -q -b main --bare server.git");
        git("work", "remote add origin ../server.git");
    }
    [[nodiscard]] const fs::path& path() const { return m_folder.path(); }
    [[nodiscard]] fs::path work() const { return path() / "work"; }
    [[nodiscard]] fs::path server() const { return path() / "server.git"; }

    /// `git <words>` in a folder of the desk, blind to the configuration of whoever runs the tests.
    Ran git(const std::string& folder, const std::string& words) const {
        const std::string log = (path() / "log").string();
        const std::string home = path().string();
        const std::string command =
            "cd '" + (path() / folder).string() + "' && env -i HOME='" + home + "' PATH='" + home +
            "/bin:/usr/bin:/bin' XDG_CACHE_HOME='" + home +
            "' GIT_CONFIG_NOSYSTEM=1 GIT_AUTHOR_NAME=a GIT_AUTHOR_EMAIL=a@example.org "
            "GIT_COMMITTER_NAME=a GIT_COMMITTER_EMAIL=a@example.org git " +
            words + " >'" + log + "' 2>&1";
        const int status = std::system(command.c_str());
        std::ifstream file(log);
        return {status == 0 ? 0 : 1, {std::istreambuf_iterator<char>(file), {}}, {}};
    }
    void write(const std::string& file, const std::string& text) const {
        std::ofstream(work() / file, std::ios::binary) << text;
    }
    Ran commit(const std::string& text, const std::string& options = "") const {
        write("a.yaml", text);
        git("work", "add a.yaml");
        return git("work", "commit -q -m change " + options);
    }

  private:
    scratch::Folder m_folder;
};

Ran hook(const fs::path& folder, std::vector<std::string> words) {
    words.insert(words.begin(), "hook");
    return run_in(folder, words);
}

} // namespace

TEST_CASE("pre-commit: a commit that breaks a puzzle does not come about, amended and partial ones too") {
    const Desk desk;
    REQUIRE(hook(desk.work(), {"add", "pre-commit"}).status == 0);
    CHECK(desk.commit(puzzles({sound("one")})).status == 0);
    const Ran refused = desk.commit(puzzles({sound("one"), cooked("two")}));
    CHECK(refused.status == 1);
    CHECK(holds(refused.out, "error key/cook"));
    CHECK(desk.commit(puzzles({cooked("one")}), "--amend").status == 1);

    // What is not added is not judged.
    desk.write("a.yaml", puzzles({sound("one"), sound_too("two")}));
    desk.git("work", "add a.yaml");
    desk.write("a.yaml", puzzles({cooked("one")}));
    CHECK(desk.git("work", "commit -q -m partial").status == 0);
    // Named files are staged into an index of git's own.
    CHECK(desk.git("work", "commit -q -m named a.yaml").status == 1);

    CHECK(holds(hook(desk.work(), {}).out, "pre-commit   sidelint's"));
    CHECK(hook(desk.work(), {"remove", "pre-commit"}).status == 0);
    CHECK(desk.git("work", "commit -q -m named a.yaml").status == 0);
}

TEST_CASE("pre-commit: each commit of a rebase that goes through leaves the branch as it was asked for") {
    const Desk desk;
    desk.commit(puzzles({sound("one")}));
    desk.git("work", "checkout -q -b side");
    desk.commit(puzzles({sound("one"), sound_too("two")}));
    desk.git("work", "checkout -q main");
    desk.git("work", "commit -q --allow-empty -m other");
    REQUIRE(hook(desk.work(), {"add", "pre-commit"}).status == 0);
    CHECK(desk.git("work", "rebase -q main side").status == 0);
    CHECK(holds(desk.git("work", "log --format=%s").out, "change\nother\nchange"));
}

TEST_CASE("pre-receive: a server refuses what breaks a puzzle, and takes what mends one") {
    const Desk desk;
    REQUIRE(hook(desk.server(), {"add", "pre-receive"}).status == 0);
    desk.commit(puzzles({cooked("old")}));
    const Ran first = desk.git("work", "push -q origin main");
    CHECK(first.status == 1); // everything in a first push is new
    CHECK(holds(first.out, "error key/cook"));
    desk.commit(puzzles({sound("old")}));
    CHECK(desk.git("work", "push -q origin main").status == 0);

    desk.git("work", "checkout -q -b side");
    desk.commit(puzzles({sound("old"), cooked("fresh")}));
    CHECK(desk.git("work", "push -q origin side").status == 1);
    desk.commit(puzzles({sound("old"), sound_too("fresh")}));
    CHECK(desk.git("work", "push -q origin side").status == 0);
    CHECK(desk.git("work", "push -q origin --delete side").status == 0);
    desk.git("work", "tag v1");
    CHECK(desk.git("work", "push -q origin v1").status == 0);
}

TEST_CASE("pre-push: a new branch is compared with where it parted, a known one with what the remote holds") {
    const Desk desk;
    desk.commit(puzzles({cooked("old")}));
    REQUIRE(desk.git("work", "push -q origin main").status == 0);
    REQUIRE(hook(desk.work(), {"add", "pre-push"}).status == 0);
    desk.git("work", "checkout -q -b side");
    desk.commit(puzzles({cooked("old"), sound_too("fresh")}));
    CHECK(desk.git("work", "push -q origin side").status == 0); // the old fault is no news
    desk.commit(puzzles({cooked("old"), cooked("fresh")}));
    const Ran refused = desk.git("work", "push -q origin side");
    CHECK(refused.status == 1);
    CHECK(holds(refused.out, "refs/heads/side"));
    CHECK_FALSE(
        holds(refused.out, "error key/cook: Qd8# solves it as well as the key Ra8# (mate in 1) (still"));
}

TEST_CASE("a hook of someone else's is never touched") {
    const Desk desk;
    const fs::path path = desk.work() / ".git/hooks/pre-commit";
    fs::create_directories(path.parent_path());
    std::ofstream(path) << "#!/bin/sh\nexit 0\n";
    for (const char* const task : {"add", "remove"}) {
        const Ran ran = hook(desk.work(), {task, "pre-commit"});
        CHECK(ran.status == 2);
        CHECK(holds(ran.err, "is a hook of your own"));
        CHECK(holds(ran.err, "sidelint hook run pre-commit"));
    }
    CHECK(fs::file_size(path) == 17);
    CHECK(holds(hook(desk.work(), {}).out, "pre-commit   another one"));
}

TEST_CASE("a hooks folder that other repositories share is left alone; one of the repository's own is used") {
    const Desk desk;
    desk.git("work", "config core.hooksPath ../shared-hooks");
    const Ran shared = hook(desk.work(), {"add", "pre-commit"});
    CHECK(shared.status == 3);
    CHECK(holds(shared.err, "core.hooksPath"));
    desk.git("work", "config core.hooksPath tools/hooks");
    CHECK(hook(desk.work(), {"add", "pre-commit", "pre-push"}).status == 0);
    CHECK(fs::exists(desk.work() / "tools/hooks/pre-push"));
}

TEST_CASE("what git says to a hook must be handed on") {
    const Desk desk;
    desk.commit(puzzles({sound("one")}));
    const auto run = [&](const std::string& lines) {
        return run_in(desk.work(), {"hook", "run", "pre-receive"}, {}, lines);
    };
    CHECK(run("").status == 0);
    CHECK(run("nonsense\n").status == 2);
    const Ran unknown = run(zeros + ' ' + std::string(40, '7') + " refs/heads/main\n");
    CHECK(unknown.status == 3);
    CHECK(holds(unknown.err, "7777777"));
    CHECK(run_in(desk.work(), {"hook", "add", "post-office"}).status == 2);
    CHECK(run_in(desk.work(), {"hook", "add"}).status == 2);
}

TEST_CASE("without sidelint on the PATH a hook fails and says why") {
    const Desk desk;
    REQUIRE(hook(desk.work(), {"add", "pre-commit"}).status == 0);
    fs::remove(desk.path() / "bin/sidelint");
    const Ran ran = desk.commit(puzzles({sound("one")}));
    CHECK(ran.status == 1);
    CHECK(holds(ran.out, "not on the PATH"));
}
