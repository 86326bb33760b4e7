// A file holds all of the old bytes or all of the new ones, whatever happens in between.
#include "catch.hpp"
#include "history/patch.hpp"
#include "history/replace.hpp"
#include "holds.hpp"
#include "scratch.hpp"

#include <csignal>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

namespace fs = std::filesystem;
using history::replace_beneath;

namespace {

void write(const fs::path& path, const std::string& text) {
    fs::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << text;
}

std::string read(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

std::size_t files_in(const fs::path& folder) {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

/// Replaces in a child process that may write `limit` bytes a file and is ended by the system when it writes
/// more: in the middle of the part file. Returns the signal that ended it, 0 for none.
int replace_and_be_killed(const std::string& root, const std::string& before, const std::string& after,
                          rlim_t limit) {
    const pid_t child = ::fork();
    if (child == 0) {
        const rlimit most{limit, limit};
        ::setrlimit(RLIMIT_FSIZE, &most);
        const rlimit no_core{0, 0};
        ::setrlimit(RLIMIT_CORE, &no_core);
        std::signal(SIGXFSZ, SIG_DFL);
        ::_exit(replace_beneath(root, "a.pgn", before, after) ? 1 : 0);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFSIGNALED(status) ? WTERMSIG(status) : 0;
}

} // namespace

TEST_CASE("replace: bytes, mode and folder") {
    const scratch::Folder folder;
    const std::string root = folder.path().string();
    write(folder.path() / "sets/a.pgn", "old");
    ::chmod((root + "/sets/a.pgn").c_str(), 0640);
    CHECK_FALSE(replace_beneath(root, "sets/a.pgn", "old", "new"));
    CHECK(read(folder.path() / "sets/a.pgn") == "new");
    struct stat status {};
    REQUIRE(::stat((root + "/sets/a.pgn").c_str(), &status) == 0);
    CHECK((status.st_mode & 07777) == 0640);
    CHECK(files_in(folder.path() / "sets") == 1);
}

TEST_CASE("replace: a run killed in the middle loses nothing, and the next one cleans up") {
    const scratch::Folder folder;
    const std::string root = folder.path().string();
    const std::string before(100'000, 'o');
    const std::string after(100'000, 'n');
    write(folder.path() / "a.pgn", before);
    CHECK(replace_and_be_killed(root, before, after, 50'000) == SIGXFSZ);
    CHECK(read(folder.path() / "a.pgn") == before);
    CHECK(files_in(folder.path()) == 2); // what was written so far
    CHECK_FALSE(replace_beneath(root, "a.pgn", before, after));
    CHECK(read(folder.path() / "a.pgn") == after);
    CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("replace: a full disk leaves the file as it was and nothing beside it") {
    const scratch::Folder folder;
    const std::string root = folder.path().string();
    const std::string before(100'000, 'o');
    write(folder.path() / "a.pgn", before);
    const auto ignore = std::signal(SIGXFSZ, SIG_IGN);
    rlimit usual{};
    REQUIRE(::getrlimit(RLIMIT_FSIZE, &usual) == 0);
    const rlimit small{50'000, usual.rlim_max};
    REQUIRE(::setrlimit(RLIMIT_FSIZE, &small) == 0);
    const auto fault = replace_beneath(root, "a.pgn", before, std::string(100'000, 'n'));
    ::setrlimit(RLIMIT_FSIZE, &usual);
    std::signal(SIGXFSZ, ignore);
    REQUIRE(fault);
    CHECK(holds(fault->message, "left as it was"));
    CHECK(read(folder.path() / "a.pgn") == before);
    CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("replace: what is no file of ours to write is refused") {
    const scratch::Folder folder;
    const std::string root = folder.path().string();
    write(folder.path() / "real.pgn", "old");
    fs::create_symlink("real.pgn", folder.path() / "link.pgn");
    fs::create_directory_symlink(".", folder.path() / "loop");
    const auto link = replace_beneath(root, "link.pgn", "old", "new");
    REQUIRE(link);
    CHECK(holds(link->message, "symbolic link"));
    CHECK(fs::is_symlink(folder.path() / "link.pgn"));
    CHECK(replace_beneath(root, "loop/real.pgn", "old", "new"));
    CHECK(replace_beneath(root, "../real.pgn", "old", "new"));
    CHECK(replace_beneath(root, "nowhere/a.pgn", "old", "new"));
    CHECK(replace_beneath(root, "gone.pgn", "old", "new"));
    ::chmod((root + "/real.pgn").c_str(), 0444);
    const auto fault = replace_beneath(root, "real.pgn", "old", "new");
    REQUIRE(fault);
    CHECK(holds(fault->message, "read-only"));
    CHECK(read(folder.path() / "real.pgn") == "old");
}

TEST_CASE("replace: a file that changed since it was read is not overwritten") {
    const scratch::Folder folder;
    write(folder.path() / "a.pgn", "edited meanwhile");
    const auto fault = replace_beneath(folder.path().string(), "a.pgn", "old", "new");
    REQUIRE(fault);
    CHECK(holds(fault->message, "changed since it was read"));
    CHECK(read(folder.path() / "a.pgn") == "edited meanwhile");
}

TEST_CASE("replace: two runs at once agree") {
    const scratch::Folder folder;
    const std::string root = folder.path().string();
    const std::string before(1'000'000, 'o');
    const std::string after(1'000'000, 'n');
    write(folder.path() / "a.pgn", before);
    std::optional<collection::Error> first;
    std::optional<collection::Error> second;
    {
        const std::jthread one([&] { first = replace_beneath(root, "a.pgn", before, after); });
        const std::jthread two([&] { second = replace_beneath(root, "a.pgn", before, after); });
    }
    CHECK_FALSE(first);
    CHECK_FALSE(second);
    CHECK(read(folder.path() / "a.pgn") == after);
    CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("patch: a unified diff of any bytes") {
    const auto diff = history::unified_diff("sets/a b.pgn", "one\r\ntwo\xe4\r\n", "one\r\ntwo\r\n");
    REQUIRE(diff);
    CHECK(holds(*diff, "--- a/sets/a b.pgn"));
    CHECK(holds(*diff, "@@ -1,2 +1,2 @@\n one\r\n-two\xe4\r\n+two\r\n"));
    CHECK(history::unified_diff("a", "same", "same")->empty());
    CHECK(holds(*history::unified_diff("a", std::string("a\0b\n", 4), "a\n"), "+a\n"));
}
