#include "catch.hpp"
#include "scratch.hpp"

#include <algorithm>
#include <fstream>
#include <random>

using history::State;
using scratch::everything;
using scratch::Files;

namespace {

struct Told {
    std::string changes;
    std::vector<std::string> skipped;
};

Told between(const history::Repository& repository, const State& before, const State& after,
             const rules::Policy& policy = everything) {
    Told told;
    const auto changes = repository.changes(before, after, policy, told.skipped);
    INFO((changes.ok() ? "" : changes.error().message));
    REQUIRE(changes.ok());
    told.changes = scratch::told(*changes);
    return told;
}

std::string pointer() {
    return "version https://git-lfs.github.com/spec/v1\noid sha256:" + std::string(64, 'a') +
           "\nsize 12345\n";
}

} // namespace

TEST_CASE("between commits: added, removed, changed, by path; a rename is both") {
    scratch::Repository scratch;
    const std::string one = scratch.commit({{"a.yaml", {"1"}},
                                            {"deep/er/b.yaml", {"2"}},
                                            {"deep/er/c.yaml", {"3"}},
                                            {"gone.yaml", {"4"}},
                                            {"x/same.yaml", {"5"}}},
                                           {});
    const std::string two = scratch.commit({{"a.yaml", {"1"}},
                                            {"deep/er/b.yaml", {"2!"}},
                                            {"deep/er/c.yaml", {"3"}},
                                            {"new/d.yaml", {"4"}},
                                            {"x/same.yaml", {"5"}}},
                                           {one});
    const auto repository = scratch.open();
    const State before = *repository.commit(one);
    const State after = *repository.commit(two);
    CHECK(between(repository, before, after).changes == "~deep/er/b.yaml -gone.yaml +new/d.yaml");
    CHECK(between(repository, after, before).changes == "~deep/er/b.yaml +gone.yaml -new/d.yaml");
    CHECK(between(repository, after, after).changes.empty());

    rules::Policy some;
    some.exclude = {"deep/**"};
    CHECK(between(repository, before, after, some).changes == "-gone.yaml +new/d.yaml");
}

TEST_CASE("between commits: what turns into a folder or out of one") {
    scratch::Repository scratch;
    const std::string one =
        scratch.commit({{"a", {"1"}}, {"a.b", {"2"}}, {"b/x", {"3"}}, {"b/y/z", {"4"}}}, {});
    const std::string two = scratch.commit({{"a/x", {"1"}}, {"a.b", {"2"}}, {"b", {"3"}}}, {one});
    const auto repository = scratch.open();
    CHECK(between(repository, *repository.commit(one), *repository.commit(two)).changes ==
          "-a +a/x +b -b/x -b/y/z");
}

TEST_CASE("the mode of a file that stays a file is no change") {
    scratch::Repository scratch;
    const std::string one = scratch.commit({{"a.yaml", {"1"}}}, {});
    const std::string two = scratch.commit({{"a.yaml", {"1", 0100755}}}, {one});
    const auto repository = scratch.open();
    CHECK(between(repository, *repository.commit(one), *repository.commit(two)).changes.empty());
}

TEST_CASE("links, submodules and pointers are left out and told") {
    scratch::Repository scratch;
    const std::string one =
        scratch.commit({{"a.yaml", {"1"}}, {"b.yaml", {"2"}}, {"c.pgn", {"3"}}, {"d.pgn", {pointer()}}}, {});
    const Files files{{"a.yaml", scratch::link("b.yaml")},
                      {"b.yaml", {"2"}},
                      {"c.pgn", {pointer()}},
                      {"d.pgn", {"4"}},
                      {"e.pgn", {pointer()}},
                      {"lib", scratch::module()}};
    const std::string two = scratch.commit(files, {one});
    const auto repository = scratch.open();
    const Told told = between(repository, *repository.commit(one), *repository.commit(two));
    // a.yaml was a file and is none any more; c and d cannot be compared, whichever side the pointer is on.
    CHECK(told.changes == "-a.yaml");
    CHECK(told.skipped == std::vector<std::string>{
                              "a.yaml: a symbolic link; left out",
                              "c.pgn: a pointer to large file storage, its bytes are not in git; left out",
                              "d.pgn: a pointer to large file storage, its bytes are not in git; left out",
                              "e.pgn: a pointer to large file storage, its bytes are not in git; left out",
                              "lib: a repository of its own; left out",
                          });

    std::vector<std::string> skipped;
    const auto listed = repository.files(*repository.commit(two), everything, skipped);
    REQUIRE(listed.ok());
    REQUIRE(listed->size() == 2);
    CHECK(listed->at(0).path == "b.yaml");
    CHECK(listed->at(1).path == "d.pgn");
    CHECK(skipped.size() == 4);

    scratch.stage(files);
    skipped.clear();
    CHECK(repository.files(*repository.index(), everything, skipped)->size() == 2);
    CHECK(skipped.size() == 4);

    rules::Policy none;
    none.include = {"*.epd"};
    CHECK(between(repository, *repository.commit(one), *repository.commit(two), none).skipped.empty());
}

TEST_CASE("staged means the index, whatever the worktree holds") {
    scratch::Repository scratch;
    scratch.check_in({{"a.yaml", {"1"}}, {"b.yaml", {"2"}}, {"c.yaml", {"3"}}});
    scratch.stage({{"a.yaml", {"staged"}}, {"b.yaml", {"2"}}, {"d.yaml", {"4"}}});
    scratch.write("a.yaml", "neither here nor there");
    scratch.write("b.yaml", "not staged");
    const auto repository = scratch.open();
    const State head = *repository.head();
    const State index = *repository.index();
    CHECK(between(repository, head, index).changes == "~a.yaml -c.yaml +d.yaml");
    std::vector<std::string> skipped;
    const auto changes = repository.changes(head, index, everything, skipped);
    CHECK(*repository.bytes(index, *changes->at(0).after) == "staged");
    CHECK(*repository.bytes(head, *changes->at(0).before) == "1");
    CHECK(between(repository, index, repository.worktree()).changes == "~a.yaml ~b.yaml +c.yaml -d.yaml");
}

TEST_CASE("what is staged differs from a commit as the commit of it would, whatever turns into a folder") {
    // Names that sort otherwise as files than as folders.
    const std::vector<std::string> names{"a",     "a.b",   "a/b",   "a/b/c", "a0",
                                         "a-b/x", "b/a.b", "b/a/y", "b",     "z"};
    std::mt19937 random(7);
    const auto some_files = [&] {
        Files files;
        for (const std::string& name : names) {
            const bool beneath_a_file = std::any_of(files.begin(), files.end(), [&](const auto& file) {
                return name.starts_with(file.first + "/") || file.first.starts_with(name + "/");
            });
            if (random() % 2 == 0 && !beneath_a_file) {
                files[name] =
                    random() % 5 == 0 ? scratch::link("target") : scratch::Item{std::to_string(random() % 2)};
            }
        }
        return files;
    };
    scratch::Repository scratch;
    scratch.set_config("core.ignorecase", "true");
    std::size_t differing = 0;
    for (int round = 0; round < 60; ++round) {
        const std::string one = scratch.commit(some_files(), {}, nullptr);
        const Files second = some_files();
        const std::string two = scratch.commit(second, {}, nullptr);
        scratch.stage(second);
        const auto repository = scratch.open();
        const Told staged = between(repository, *repository.commit(one), *repository.index());
        const Told committed = between(repository, *repository.commit(one), *repository.commit(two));
        CHECK(staged.changes == committed.changes);
        CHECK(staged.skipped == committed.skipped);
        differing += staged.changes.empty() ? 0U : 1U;
    }
    CHECK(differing > 50);
}

TEST_CASE("a folder of a commit: files and folders with their ids") {
    scratch::Repository scratch;
    const std::string one = scratch.commit({{"a.yaml", {"1"}},
                                            {"deep/b.yaml", {"2"}},
                                            {"same/b.yaml", {"2"}},
                                            {"link", scratch::link("a.yaml")},
                                            {"module", scratch::module()}},
                                           {});
    const auto repository = scratch.open();
    const auto root = repository.folder(*repository.root_folder(*repository.commit(one)), "");
    REQUIRE(root.ok());
    std::string told;
    for (const history::FolderItem& item : *root) {
        told += item.name + (item.is_folder ? "/ " : " ");
    }
    CHECK(told == "a.yaml deep/ same/ ");
    CHECK(root->at(1).id == root->at(2).id); // the same beneath both
    CHECK(repository.folder(root->at(1).id, "deep")->size() == 1);
    CHECK_FALSE(repository.folder(root->at(0).id, "a.yaml").ok());
    CHECK_FALSE(repository.folder("nonsense", "").ok());
    CHECK_FALSE(repository.root_folder(repository.worktree()).ok());
}

TEST_CASE("a file only announced to the index has no staged bytes") {
    scratch::Repository scratch;
    scratch.check_in({{"a.yaml", {"1"}}});
    git_index_entry entry{};
    entry.path = "later.yaml";
    entry.mode = 0100644;
    entry.flags_extended = GIT_INDEX_ENTRY_INTENT_TO_ADD;
    scratch.stage(entry, "");
    scratch.write("later.yaml", "2");
    const auto repository = scratch.open();
    CHECK(between(repository, *repository.head(), *repository.index()).changes.empty());
    CHECK(between(repository, *repository.head(), repository.worktree()).changes == "+later.yaml");
}

TEST_CASE("the worktree: tracked and new files, ignored ones not") {
    scratch::Repository scratch;
    scratch.check_in({{".gitignore", {"*.log\n/build/\nkept/\n"}},
                      {"a.yaml", {"1"}},
                      {"b.yaml", {"2"}},
                      {"kept/c.yaml", {"3"}}});
    scratch.write("a.yaml", "changed");
    scratch.write("sets/new.yaml", "4");
    scratch.write("noise.log", "5");
    scratch.write("build/d.yaml", "6");
    scratch.write("kept/c.yaml", "tracked although ignored");
    scratch.write("kept/e.yaml", "ignored");
    std::filesystem::remove(scratch.root() + "/b.yaml");
    const auto repository = scratch.open();
    CHECK(between(repository, *repository.head(), repository.worktree()).changes ==
          "~a.yaml -b.yaml ~kept/c.yaml +sets/new.yaml");
    CHECK(between(repository, repository.worktree(), *repository.head()).changes ==
          "~a.yaml +b.yaml ~kept/c.yaml -sets/new.yaml");
    CHECK(between(repository, repository.worktree(), repository.worktree()).changes.empty());
    std::vector<std::string> skipped;
    const auto files = repository.files(repository.worktree(), everything, skipped);
    CHECK(files->size() == 4);
    for (const history::FileState& file : *files) {
        CHECK(file.id.empty());
    }
}

TEST_CASE("line ends alone are no change of a worktree file") {
    scratch::Repository scratch;
    scratch.check_in({{"a.yaml", {"one\ntwo\n"}},
                      {"b.yaml", {"one\ntwo\n"}},
                      {"c.yaml", {"one\r\ntwo\r\n"}},
                      {"d.yaml", {"x\ry"}}});
    scratch.write("a.yaml", "one\r\ntwo\r\n");
    scratch.write("b.yaml", "one\r\ntwo\r\n\r\n");
    scratch.write("c.yaml", "one\ntwo\n");
    scratch.write("d.yaml", "xy");
    const auto repository = scratch.open();
    CHECK(between(repository, *repository.head(), repository.worktree()).changes == "~b.yaml ~d.yaml");
}

TEST_CASE("a file the index knows as unchanged is believed, one as young as the index is read") {
    scratch::Repository scratch;
    const Files files{{"a.yaml", {"12345"}}};
    scratch.check_in(files);
    scratch.refresh_index(files);
    const auto repository = scratch.open();
    CHECK(between(repository, *repository.head(), repository.worktree()).changes.empty());
    const std::filesystem::path file = scratch.root() + "/a.yaml";
    const auto known_time = std::filesystem::last_write_time(file);
    scratch.write("a.yaml", "54321");
    CHECK(between(repository, *repository.head(), repository.worktree()).changes == "~a.yaml");
    std::filesystem::last_write_time(file,
                                     std::filesystem::file_time_type::clock::now() + std::chrono::hours(1));
    CHECK(between(repository, *repository.head(), repository.worktree()).changes == "~a.yaml");
    // Nothing but the bytes differs: git itself sees no change here, and this shows that the file was not
    // read.
    std::filesystem::last_write_time(file, known_time);
    CHECK(between(repository, *repository.head(), repository.worktree()).changes.empty());
}

TEST_CASE("a sparse checkout: what was not checked out is no removal") {
    scratch::Repository scratch;
    scratch.check_in({{"a.yaml", {"1"}}, {"b.yaml", {"2"}}});
    git_index_entry entry{};
    entry.path = "b.yaml";
    entry.mode = 0100644;
    entry.flags_extended = GIT_INDEX_ENTRY_SKIP_WORKTREE;
    scratch.stage(entry, "2");
    std::filesystem::remove(scratch.root() + "/b.yaml");
    const auto repository = scratch.open();
    CHECK(between(repository, *repository.head(), repository.worktree()).changes.empty());
    std::vector<std::string> skipped;
    const auto files = repository.files(repository.worktree(), everything, skipped);
    REQUIRE(files->size() == 2);
    CHECK(*repository.bytes(repository.worktree(), files->at(1)) == "2");
}

TEST_CASE("repositories inside the worktree are not walked") {
    scratch::Repository scratch;
    scratch.check_in({{"a.yaml", {"1"}}, {"lib", scratch::module()}});
    scratch.write("lib/.git", "gitdir: ../.git/modules/lib\n");
    scratch.write("lib/b.yaml", "2");
    scratch.write("nested/.git/HEAD", "ref: refs/heads/main\n");
    scratch.write("nested/c.yaml", "3");
    const auto repository = scratch.open();
    const Told told = between(repository, *repository.head(), repository.worktree());
    CHECK(told.changes.empty());
    CHECK(told.skipped == std::vector<std::string>{"nested: a repository of its own; left out"});
}

TEST_CASE("a link that was a file, and links that stay links, in the worktree") {
    scratch::Repository scratch;
    scratch.check_in({{"a.yaml", {"1"}}, {"b.yaml", {"2"}}, {"l.yaml", scratch::link("a.yaml")}});
    std::filesystem::remove(scratch.root() + "/b.yaml");
    std::filesystem::create_symlink("a.yaml", scratch.root() + "/b.yaml");
    std::filesystem::create_symlink("a.yaml", scratch.root() + "/l.yaml");
    const auto repository = scratch.open();
    const Told told = between(repository, *repository.head(), repository.worktree());
    CHECK(told.changes == "-b.yaml");
    CHECK(told.skipped == std::vector<std::string>{"b.yaml: a symbolic link; left out"});
}

TEST_CASE("a pointer in git whose file was fetched is not compared") {
    scratch::Repository scratch;
    scratch.check_in({{"a.pgn", {pointer()}}});
    scratch.write("a.pgn", "the real bytes");
    const auto repository = scratch.open();
    const Told told = between(repository, *repository.head(), repository.worktree());
    CHECK(told.changes.empty());
    CHECK(told.skipped.size() == 1);
    std::vector<std::string> skipped;
    CHECK(repository.files(repository.worktree(), everything, skipped)->size() == 1);
    scratch.write("a.pgn", pointer());
    CHECK(repository.files(repository.worktree(), everything, skipped)->empty());
    CHECK(skipped.size() == 1);
}

TEST_CASE("trees made to exhaust their reader are refused in bounded time") {
    scratch::Repository scratch;
    // Fifteen folders, each holding the next ten times: 10^15 files in fifteen small objects.
    git_oid id;
    REQUIRE(git_blob_create_from_buffer(&id, scratch.handle(), "x", 1) == 0);
    unsigned mode = 0100644;
    for (int level = 0; level < 15; ++level) {
        git_treebuilder* builder = nullptr;
        REQUIRE(git_treebuilder_new(&builder, scratch.handle(), nullptr) == 0);
        for (int i = 0; i < 10; ++i) {
            const std::string name(250, static_cast<char>('0' + i));
            REQUIRE(git_treebuilder_insert(nullptr, builder, name.c_str(), &id,
                                           static_cast<git_filemode_t>(mode)) == 0);
        }
        REQUIRE(git_treebuilder_write(&id, builder) == 0);
        git_treebuilder_free(builder);
        mode = 0040000;
    }
    history::TreeHandle tree;
    REQUIRE(git_tree_lookup(into(tree), scratch.handle(), &id) == 0);
    std::string name = "Somebody";
    const git_signature who{name.data(), name.data(), {1'700'000'000, 0, '+'}};
    REQUIRE(git_commit_create(&id, scratch.handle(), "refs/heads/main", &who, &who, nullptr, "", tree.get(),
                              0, nullptr) == 0);
    const auto repository = scratch.open();
    std::vector<std::string> skipped;
    const auto files = repository.files(*repository.head(), everything, skipped);
    REQUIRE_FALSE(files.ok());
    CHECK(files.error().message.find("more files than can be listed") != std::string::npos);
}

TEST_CASE("an entry that could lead out of the root is refused") {
    scratch::Repository scratch;
    git_oid blob;
    REQUIRE(git_blob_create_from_buffer(&blob, scratch.handle(), "x", 1) == 0);
    for (const char* evil : {"..", ".", "a/b"}) {
        INFO(evil);
        std::string raw = std::string("100644 ") + evil + '\0';
        raw.append(reinterpret_cast<const char*>(blob.id), GIT_OID_RAWSZ);
        history::OdbHandle objects;
        REQUIRE(git_repository_odb(into(objects), scratch.handle()) == 0);
        git_oid id;
        REQUIRE(git_odb_write(&id, objects.get(), raw.data(), raw.size(), GIT_OBJECT_TREE) == 0);
        history::TreeHandle tree;
        REQUIRE(git_tree_lookup(into(tree), scratch.handle(), &id) == 0);
        std::string name = "Somebody";
        const git_signature who{name.data(), name.data(), {1'700'000'000, 0, '+'}};
        REQUIRE(git_commit_create(&id, scratch.handle(), nullptr, &who, &who, nullptr, "", tree.get(), 0,
                                  nullptr) == 0);
        scratch.branch("refs/heads/main", git_oid_tostr_s(&id));
        const auto repository = scratch.open();
        std::vector<std::string> skipped;
        CHECK_FALSE(repository.files(*repository.head(), everything, skipped).ok());
    }
}
