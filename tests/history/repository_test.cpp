#include "catch.hpp"
#include "holds.hpp"
#include "scratch.hpp"

#include <fstream>
#include <sys/stat.h>
#include <unistd.h>

using history::Error;
using history::State;
using scratch::everything;

namespace {

const scratch::Files first{{"a.yaml", {"one\n"}}, {"sets/b.yaml", {"two\n"}}};
const scratch::Files second{{"a.yaml", {"one\n"}}, {"sets/b.yaml", {"three\n"}}};
std::string told(const Error& error) {
    return error.message + " | " + error.cure;
}

} // namespace

TEST_CASE("outside a repository the cure is named") {
    const scratch::Repository hermetic;
    const scratch::Folder folder;
    const auto opened = history::Repository::open(folder.path().string());
    REQUIRE_FALSE(opened.ok());
    CHECK(opened.error().kind == Error::Kind::repository);
    CHECK(holds(told(opened.error()), "no git repository at " + folder.path().string()));
    CHECK(holds(opened.error().cure, "inside a clone"));
}

TEST_CASE("a repository is found from a folder inside it") {
    scratch::Repository scratch;
    scratch.check_in(first);
    const auto opened = history::Repository::open(scratch.root() + "/sets");
    REQUIRE(opened.ok());
    CHECK(opened->root() == scratch.root());
}

TEST_CASE("revisions are read as given, then as the remote's") {
    scratch::Repository scratch;
    const std::string one = scratch.check_in(first);
    const std::string two = scratch.check_in(second);
    scratch.branch("refs/remotes/origin/topic", one);
    const auto repository = scratch.open();

    CHECK(repository.commit("HEAD")->commit == two);
    CHECK(repository.commit("HEAD^")->commit == one);
    CHECK(repository.commit("HEAD~1")->commit == one);
    CHECK(repository.commit("main")->commit == two);
    CHECK(repository.commit(one)->commit == one);
    CHECK(repository.commit(one.substr(0, 9))->commit == one);
    const auto topic = repository.commit("topic");
    REQUIRE(topic.ok());
    CHECK(topic->commit == one);
    CHECK(topic->name == "origin/topic");
    CHECK(repository.commit("HEAD")->name == "HEAD");
    CHECK(repository.head()->commit == two);

    const auto unknown = repository.commit("tpoic");
    REQUIRE_FALSE(unknown.ok());
    CHECK(unknown.error().kind == Error::Kind::repository);
    CHECK(holds(unknown.error().message, "'tpoic'"));
    CHECK(holds(unknown.error().cure, "git fetch"));
    CHECK_FALSE(holds(unknown.error().message, "shallow"));
    for (const char* odd :
         {"", "HEAD:a.yaml", "HEAD^{tree}", "..", "HEAD^^^^^^^", "@{", "~~~", "-x", "main..HEAD"}) {
        INFO(odd);
        CHECK_FALSE(repository.commit(odd).ok());
    }
}

TEST_CASE("an annotated tag stands for its commit") {
    scratch::Repository scratch;
    const std::string one = scratch.check_in(first);
    git_oid id;
    history::ObjectHandle object;
    REQUIRE(git_revparse_single(into(object), scratch.handle(), "HEAD") == 0);
    std::string name = "Somebody";
    std::string mail = "somebody@example.org";
    const git_signature who{name.data(), mail.data(), {1'700'000'000, 0, '+'}};
    REQUIRE(git_tag_create(&id, scratch.handle(), "v1", object.get(), &who, "a tag", 0) == 0);
    CHECK(scratch.open().commit("v1")->commit == one);
}

TEST_CASE("parents: the first of a merge, none of a first commit") {
    scratch::Repository scratch;
    const std::string one = scratch.check_in(first);
    const std::string two = scratch.commit(second, {one}, nullptr);
    const std::string other = scratch.commit(first, {one}, nullptr);
    scratch.commit(second, {two, other});
    const auto repository = scratch.open();
    const auto parent = repository.parent(*repository.commit("HEAD"));
    REQUIRE(parent.ok());
    REQUIRE(parent->has_value());
    CHECK((*parent)->commit == two);
    CHECK((*parent)->name == "HEAD^");
    const auto none = repository.parent(*repository.commit(one));
    REQUIRE(none.ok());
    CHECK_FALSE(none->has_value());
}

TEST_CASE("before the first commit") {
    scratch::Repository scratch;
    const auto repository = scratch.open();
    const auto head = repository.head();
    REQUIRE(head.ok());
    CHECK(head->kind == State::Kind::nothing);
    const auto named = repository.commit("HEAD");
    REQUIRE_FALSE(named.ok());
    CHECK(holds(named.error().message, "no commit yet"));

    scratch.stage(first);
    std::vector<std::string> skipped;
    const auto changes = repository.changes(*head, *repository.index(), everything, skipped);
    REQUIRE(changes.ok());
    CHECK(scratch::told(*changes) == "+a.yaml +sets/b.yaml");
    CHECK(skipped.empty());
    CHECK(repository.files(*head, everything, skipped)->empty());
    CHECK_FALSE(repository.bytes_at(*head, "a.yaml")->has_value());
}

TEST_CASE("a bare repository answers about commits only") {
    scratch::Repository scratch(scratch::Shape::bare);
    const std::string one = scratch.commit(first, {});
    scratch.commit(second, {one});
    const auto repository = scratch.open();
    CHECK(repository.root().empty());
    std::vector<std::string> skipped;
    const auto changes =
        repository.changes(*repository.commit("HEAD^"), *repository.commit("HEAD"), everything, skipped);
    REQUIRE(changes.ok());
    CHECK(scratch::told(*changes) == "~sets/b.yaml");
    const auto index = repository.index();
    REQUIRE_FALSE(index.ok());
    CHECK(holds(told(index.error()), "bare"));
    const auto files = repository.files(repository.worktree(), everything, skipped);
    REQUIRE_FALSE(files.ok());
    CHECK(holds(told(files.error()), "bare"));
    CHECK_FALSE(repository.bytes_at(repository.worktree(), "a.yaml").ok());
}

TEST_CASE("a conflict in the index is refused by name") {
    scratch::Repository scratch;
    scratch.check_in(first);
    history::IndexHandle index;
    REQUIRE(git_repository_index(into(index), scratch.handle()) == 0);
    const git_index_entry* entry = git_index_get_bypath(index.get(), "sets/b.yaml", 0);
    REQUIRE(git_index_conflict_add(index.get(), entry, entry, entry) == 0);
    REQUIRE(git_index_write(index.get()) == 0);
    const auto state = scratch.open().index();
    REQUIRE_FALSE(state.ok());
    CHECK(state.error().kind == Error::Kind::repository);
    CHECK(holds(state.error().message, "conflict"));
    CHECK(holds(state.error().message, "sets/b.yaml"));
}

TEST_CASE("an index format the library cannot read is named with its cure") {
    scratch::Repository scratch;
    // An empty index of version 2 with an empty extension, and its checksum.
    const auto with_extension = [&](const std::string& name, const std::string& checksum) {
        std::string bytes = std::string("DIRC\0\0\0\2\0\0\0\0", 12) + name + std::string(4, '\0');
        for (std::size_t i = 0; i < checksum.size(); i += 2) {
            bytes += static_cast<char>(std::stoi(checksum.substr(i, 2), nullptr, 16));
        }
        std::ofstream(scratch.git_folder() / "index", std::ios::binary) << bytes;
        const auto state = scratch.open().index();
        REQUIRE_FALSE(state.ok());
        return told(state.error());
    };
    CHECK(holds(with_extension("link", "e531fc9885cfab08ad994d8de46e0bfb368ce75b"), "--no-split-index"));
    CHECK(holds(with_extension("sdir", "71f0ea8d6052d142d0beb3e34ad877762621269f"), "--no-sparse-index"));
}

TEST_CASE("the index of a hook is the one its environment names") {
    scratch::Repository scratch;
    scratch.check_in(first);
    const std::string usual = (scratch.git_folder() / "index").string();
    const std::string other = (scratch.git_folder() / "next-index").string();
    std::filesystem::copy(usual, other);
    scratch.stage(second);
    std::filesystem::rename(usual, usual + ".second");
    std::filesystem::rename(other, usual);
    std::filesystem::rename(usual + ".second", other);

    const auto staged_change = [&] {
        const auto repository = scratch.open();
        std::vector<std::string> skipped;
        return scratch::told(
            *repository.changes(*repository.head(), *repository.index(), everything, skipped));
    };
    CHECK(staged_change().empty());
    const scratch::Variable variable("GIT_INDEX_FILE", other);
    CHECK(staged_change() == "~sets/b.yaml");
}

TEST_CASE("GIT_DIR counts for the working directory") {
    scratch::Repository scratch;
    const std::string one = scratch.check_in(first);
    const scratch::Folder elsewhere;
    const auto here = std::filesystem::current_path();
    std::filesystem::current_path(elsewhere.path());
    const scratch::Variable variable("GIT_DIR", scratch.git_folder().string());
    const auto opened = history::Repository::open(".");
    std::filesystem::current_path(here);
    REQUIRE(opened.ok());
    CHECK(opened->commit("HEAD")->commit == one);
}

TEST_CASE("a worktree named by the environment is refused in plain words") {
    const scratch::Repository scratch;
    const scratch::Variable variable("GIT_WORK_TREE", scratch.root());
    const auto opened = history::Repository::open(scratch.root());
    REQUIRE_FALSE(opened.ok());
    CHECK(holds(told(opened.error()), "unset GIT_WORK_TREE"));
}

TEST_CASE("features of a repository the library does not know") {
    const scratch::Repository scratch;
    scratch.set_config("core.repositoryformatversion", "1");
    const auto opened_with = [&](const char* name, const char* value) {
        scratch.set_config(name, value);
        const auto opened = history::Repository::open(scratch.root());
        REQUIRE_FALSE(opened.ok());
        CHECK(opened.error().kind == Error::Kind::repository);
        return told(opened.error());
    };
    SECTION("a partial clone") {
        const std::string text = opened_with("extensions.partialClone", "origin");
        CHECK(holds(text, "partial"));
        CHECK(holds(text, "--filter"));
    }
    SECTION("anything else") {
        CHECK(holds(opened_with("extensions.whatever", "true"), "extensions.whatever"));
    }
}

TEST_CASE("a repository that belongs to somebody else") {
    if (::geteuid() != 0) {
        return; // only root can give folders away
    }
    scratch::Repository scratch;
    const std::string one = scratch.check_in(first);
    for (const auto& entry : std::filesystem::recursive_directory_iterator(scratch.root())) {
        REQUIRE(::lchown(entry.path().c_str(), 12345, 12345) == 0);
    }
    REQUIRE(::chown(scratch.root().c_str(), 12345, 12345) == 0);
    for (const char* config : {"", "[safe]\n\tdirectory = /somewhere/else\n"}) {
        const scratch::UserConfig user(config);
        const auto refused = history::Repository::open(scratch.root() + "/sets");
        REQUIRE_FALSE(refused.ok());
        CHECK(refused.error().kind == Error::Kind::repository);
        CHECK(refused.error().cure == "git config --global --add safe.directory " + scratch.root());
    }
    {
        const scratch::UserConfig user("[safe]\n\tdirectory = " + scratch.root() + "\n");
        CHECK(history::Repository::open(scratch.root() + "/sets").ok());
    }
    const auto trusted = history::Repository::open(scratch.root(), history::Trust::anyone);
    REQUIRE(trusted.ok());
    CHECK(trusted->commit("HEAD")->commit == one);
    CHECK_FALSE(history::Repository::open(scratch.root()).ok());
}

TEST_CASE("bytes of each state") {
    scratch::Repository scratch;
    scratch.check_in(first);
    scratch.stage(second);
    scratch.write("sets/b.yaml", "four\n");
    const auto repository = scratch.open();
    CHECK(*repository.bytes_at(*repository.commit("HEAD"), "sets/b.yaml") == "two\n");
    CHECK(*repository.bytes_at(*repository.index(), "sets/b.yaml") == "three\n");
    CHECK(*repository.bytes_at(repository.worktree(), "sets/b.yaml") == "four\n");
    for (const State& state : {*repository.commit("HEAD"), *repository.index(), repository.worktree()}) {
        INFO(state.name);
        CHECK_FALSE(repository.bytes_at(state, "sets/c.yaml")->has_value());
        CHECK_FALSE(repository.bytes_at(state, "no/such.yaml")->has_value());
        std::vector<std::string> skipped;
        const auto files = repository.files(state, everything, skipped);
        REQUIRE(files.ok());
        REQUIRE(files->size() == 2);
        CHECK(files->at(0).path == "a.yaml");
        CHECK(*repository.bytes(state, files->at(0)) == "one\n");
    }
    CHECK_FALSE(repository.bytes(repository.worktree(), {"sets/c.yaml", ""}).ok());
    CHECK_FALSE(repository.bytes(repository.worktree(), {"a.yaml", "not an id"}).ok());
}

TEST_CASE("worktree files are not read through links, nor outside the root") {
    scratch::Repository scratch;
    scratch.check_in(first);
    const scratch::Folder outside;
    std::ofstream(outside.path() / "secret.yaml") << "secret\n";
    const std::filesystem::path root = scratch.root();
    std::filesystem::create_symlink(outside.path() / "secret.yaml", root / "link.yaml");
    std::filesystem::create_directory_symlink(outside.path(), root / "door");
    std::filesystem::create_symlink("nowhere", root / "broken.yaml");
    std::filesystem::create_symlink("loop.yaml", root / "loop.yaml");
    REQUIRE(::mkfifo((root / "pipe.yaml").c_str(), 0600) == 0);
    const auto repository = scratch.open();
    const State worktree = repository.worktree();
    for (const char* path :
         {"link.yaml", "door/secret.yaml", "broken.yaml", "loop.yaml", "../x", "sets/../a.yaml", "/a.yaml",
          "./a.yaml", "", "sets//b.yaml", "sets", "pipe.yaml"}) {
        INFO(path);
        const auto bytes = repository.bytes_at(worktree, path);
        REQUIRE_FALSE(bytes.ok());
        CHECK(bytes.error().kind == Error::Kind::io);
    }
    std::vector<std::string> skipped;
    const auto files = repository.files(worktree, everything, skipped);
    REQUIRE(files.ok());
    CHECK(files->size() == 2);
    REQUIRE(skipped.size() == 5);
    CHECK(skipped[0] == "broken.yaml: a symbolic link; left out");
    CHECK(skipped[1] == "door: a symbolic link; left out");
    CHECK(skipped[4] == "pipe.yaml: no regular file; left out");
}
