// sidelint diff on repositories made for the purpose.
#include "harness.hpp"
#include "holds.hpp"

using harness::cooked;
using harness::json_of;
using harness::puzzles;
using harness::run_in;
using harness::sound;
using harness::sound_too;

namespace {

harness::Ran diff(const scratch::Repository& repository, std::vector<std::string> more) {
    more.insert(more.begin(), {"diff", "--effort", "draft", "--rule", "theme/*=off"});
    return run_in(repository.root(), more);
}

} // namespace

TEST_CASE("diff: added, removed, moved and changed, with findings under each") {
    scratch::Repository repository;
    std::string other = sound("changed");
    other.replace(other.find("3R2K1"), 5, "4R1K1");
    other.replace(other.find("Rd8#"), 4, "Re8#");
    repository.check_in({{"a.yaml", {puzzles({sound("changed"), sound_too("goes"), cooked("leaves")})}}});
    repository.check_in(
        {{"a.yaml", {puzzles({other, cooked("comes")})}}, {"b.yaml", {puzzles({sound_too("goes")})}}});
    const auto ran = diff(repository, {"HEAD~1", "HEAD"});
    INFO(ran.out);
    CHECK(ran.status == 0);
    CHECK(holds(ran.out, "a.yaml:3: changed changed\n    position   white rook d1 to e1\n"));
    CHECK(holds(ran.out, "key Re8# instead of Rd8#"));
    CHECK(holds(ran.out, "b.yaml:3: goes moved, from a.yaml\n"));
    const auto json = json_of(diff(repository, {"HEAD~1", "HEAD", "--format", "json"}));
    CHECK(json["run"]["before"] == "HEAD~1");
    CHECK(json["run"]["after"] == "HEAD");
}

TEST_CASE("diff: what came with a puzzle that is new, and went with one that is gone") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({sound("stays")})}}});
    repository.check_in({{"a.yaml", {puzzles({sound("stays"), cooked("comes")})}}});
    const auto come = diff(repository, {"HEAD~1", "HEAD"});
    CHECK(holds(come.out, ": comes added\n"));
    CHECK(holds(come.out, "    new        error key/cook: "));
    CHECK(holds(come.out, "1 added; findings: 1 new, 0 gone"));
    const auto gone = diff(repository, {"HEAD", "HEAD~1"});
    CHECK(holds(gone.out, ": comes removed\n"));
    CHECK(holds(gone.out, "    gone       error key/cook: "));
}

TEST_CASE("diff: the worktree, the index, and nothing at all") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({sound("one")})}}});
    const auto same = diff(repository, {});
    CHECK(same.status == 0);
    CHECK(holds(same.out, "From HEAD to the worktree: no puzzle changed"));
    repository.stage({{"a.yaml", {puzzles({cooked("one")})}}});
    repository.write("a.yaml", puzzles({sound_too("one")}));
    CHECK(holds(diff(repository, {"--staged"}).out, "From HEAD to the index: 1 changed"));
    CHECK(holds(diff(repository, {"HEAD"}).out, "From HEAD to the worktree: 1 changed"));
    CHECK(holds(diff(repository, {"--only", "a.yaml"}).out, "1 changed"));
}

TEST_CASE("diff: several reports in one run, and wrong use") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({sound("one")})}}});
    const auto ran = diff(repository, {"--format", "text", "--format", "markdown=summary.md"});
    CHECK(ran.status == 0);
    CHECK(std::filesystem::exists(repository.root() + "/summary.md"));
    CHECK(diff(repository, {"--format", "text", "--format", "json"}).status == 2);
    CHECK(diff(repository, {"--format", "pdf"}).status == 2);
    CHECK(diff(repository, {"a", "b", "c"}).status == 2);
    CHECK(diff(repository, {"no-such-branch"}).status == 3);
}

TEST_CASE("diff: annotations are for what is new") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({sound("spoilt"), sound_too("kept")})}}});
    repository.check_in({{"a.yaml", {puzzles({cooked("spoilt"), sound_too("kept")})}}});
    repository.check_in({{"a.yaml", {puzzles({sound("spoilt"), sound_too("kept")})}}});
    const auto ran = diff(repository, {"HEAD~2", "HEAD~1", "--format", "annotations"});
    INFO(ran.out);
    CHECK(ran.status == 0);
    CHECK(harness::count(ran.out, "::error file=a.yaml,line=") == 1);
    CHECK(holds(ran.out, "title=spoilt%3A key/cook"));
    CHECK(diff(repository, {"HEAD~1", "HEAD", "--format", "annotations"}).out.empty()); // mended
    CHECK(diff(repository, {"HEAD~1", "--format", "annotations=-", "--format", "text=told.txt"}).status == 0);
}
