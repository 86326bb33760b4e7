// Accepted findings: hidden and counted, never more than was accepted, and told when they are no longer
// there.
#include "harness.hpp"
#include "holds.hpp"

#include <filesystem>

using harness::cooked;
using harness::json_of;
using harness::puzzles;
using harness::run_in;
using harness::Shelf;
using harness::sound;
using harness::sound_too;

namespace {

std::vector<std::string> command(std::vector<std::string> words, std::vector<std::string> more) {
    words.insert(words.end(), {"--effort", "draft", "--rule", "theme/*=off"});
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

harness::Ran accept(const Shelf& shelf, const std::vector<std::string>& more = {}) {
    return shelf.run(command({"baseline", "accept", "b.jsonl", "--reason", "first printing"}, more));
}
harness::Ran prune(const Shelf& shelf, const std::vector<std::string>& more = {}) {
    return shelf.run(command({"baseline", "prune", "b.jsonl"}, more));
}
harness::Ran check(const Shelf& shelf, const std::vector<std::string>& more = {}) {
    return shelf.run(command({"check", "--baseline", "b.jsonl"}, more));
}

/// The same fault on another diagram.
std::string cooked_too(const std::string& id) {
    std::string text = cooked(id);
    return text.replace(text.find("5ppp"), 4, "4pppp").replace(text.find("4pppp"), 5, "6pp");
}

} // namespace

TEST_CASE("baseline: what was accepted is hidden and counted, and anything else fails") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("old"), sound("fine")}));
    const auto written = accept(shelf);
    CHECK(written.status == 0);
    CHECK(holds(written.out, "Accepted 1 finding; b.jsonl holds 1 entry."));
    CHECK(holds(shelf.read("b.jsonl"), R"({"puzzle":"old","rule":"key/cook","claim":"cook: )"));
    CHECK(holds(shelf.read("b.jsonl"), R"("effort":"draft","reason":"first printing"})"));
    const auto ran = check(shelf);
    CHECK(ran.status == 0);
    CHECK(holds(ran.out, "Accepted by the baseline: 1 finding."));
    CHECK_FALSE(holds(ran.out, "key/cook"));
    CHECK(json_of(check(shelf, {"--format", "json"}))["summary"]["accepted"] == 1);

    shelf.write("a.yaml", puzzles({cooked("old"), cooked_too("fresh")}));
    const auto more = check(shelf);
    CHECK(more.status == 1);
    CHECK(holds(more.out, "puzzle  fresh"));
    CHECK_FALSE(holds(more.out, "puzzle  old"));
}

TEST_CASE("baseline: entries follow their puzzles, and one mended does not pay for one that is new") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one"), sound_too("two")}));
    accept(shelf);
    shelf.write("a.yaml", puzzles({}));
    shelf.write("moved/b.yaml", puzzles({"\n# later\n" + sound_too("two"), cooked("one")}));
    CHECK(check(shelf).status == 0);
    shelf.write("moved/b.yaml", puzzles({cooked_too("two"), sound("one")}));
    CHECK(check(shelf).status == 1);
}

TEST_CASE("baseline: two findings of one fingerprint take two entries") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("same")}));
    accept(shelf, {"--rule", "set/*=off"});
    shelf.write("a.yaml", puzzles({cooked("same"), cooked("same")}));
    CHECK(check(shelf, {"--rule", "set/*=off"}).status == 1);
    accept(shelf, {"--rule", "set/*=off"});
    CHECK(check(shelf, {"--rule", "set/*=off"}).status == 0);
}

TEST_CASE("baseline: what no longer answers is a remark, an error when asked, and pruned") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("old"), cooked_too("stays")}));
    accept(shelf);
    shelf.write("a.yaml", puzzles({sound("old"), cooked_too("stays")}));
    const auto ran = check(shelf);
    CHECK(ran.status == 0);
    CHECK(holds(ran.out, "Remark: b.jsonl:1: key/cook no longer says this of old"));
    const auto strict = check(shelf, {"--strict-baseline", "-q"});
    CHECK(strict.status == 1);
    CHECK(holds(strict.err, "b.jsonl: 1 of its entries no longer answer to anything"));
    const auto pruned = prune(shelf);
    CHECK(holds(pruned.out, "Dropped 1 entry; b.jsonl holds 1 entry."));
    CHECK(check(shelf, {"--strict-baseline"}).status == 0);
    CHECK(prune(shelf).status == 0);
    CHECK(holds(shelf.read("b.jsonl"), "\"stays\""));
}

TEST_CASE("baseline: an entry is stale only when its rule ran on its puzzle, as far as before") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("old")}));
    shelf.write("other/b.yaml", puzzles({sound_too("two")}));
    accept(shelf);
    CHECK(check(shelf, {"--strict-baseline", "--rule", "key/*=off"}).status == 0);
    CHECK(check(shelf, {"--strict-baseline", "other"}).status == 0);
    std::string text = shelf.read("b.jsonl");
    shelf.write("a.yaml", puzzles({sound("old")}));
    shelf.write("b.jsonl", text.replace(text.find("draft"), 5, "press"));
    CHECK(check(shelf, {"--strict-baseline"}).status == 0); // a draft sees less
    shelf.write("b.jsonl", text.replace(text.find("press"), 5, "draft"));
    CHECK(check(shelf, {"--strict-baseline"}).status == 1);
    shelf.write("a.yaml", puzzles({})); // a puzzle that is gone owes nothing
    CHECK(check(shelf, {"--strict-baseline"}).status == 1);
}

TEST_CASE("baseline: beyond another version's findings may lie what is newly provable") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("old")}));
    accept(shelf);
    std::string text = shelf.read("b.jsonl");
    const std::size_t version = text.find("\"version\":\"") + 11;
    shelf.write("b.jsonl", text.replace(version, text.find('"', version) - version, "0.0.9"));
    CHECK_FALSE(holds(check(shelf).out, "newly provable"));
    shelf.write("a.yaml", puzzles({cooked("old"), cooked_too("fresh")}));
    CHECK(holds(check(shelf).out, "may be newly provable, not newly wrong"));
}

TEST_CASE("baseline: merging keeps what either side accepted and drops what either dropped") {
    const Shelf shelf;
    const auto line = [](const std::string& puzzle, const std::string& reason) {
        return "{\"puzzle\":\"" + puzzle +
               "\",\"rule\":\"key/cook\",\"claim\":\"cook: x\",\"fingerprint\":\"" + puzzle +
               "\",\"version\":\"0.1.0\",\"effort\":\"draft\",\"reason\":\"" + reason + "\"}\n";
    };
    shelf.write("base", line("a", "r") + line("b", "r") + line("c", "r"));
    shelf.write("ours", line("a", "r") + line("c", "r") + line("d", "ours") + line("f", "ours"));
    shelf.write("theirs", line("a", "r") + line("b", "r") + line("e", "theirs") + line("f", "theirs"));
    const auto ran = shelf.run({"baseline", "merge", "base", "ours", "theirs"});
    CHECK(ran.status == 0);
    CHECK(shelf.read("ours") == line("a", "r") + line("d", "ours") + line("e", "theirs") + line("f", "ours"));
}

TEST_CASE("baseline: with history it hides new and old alike") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({sound("one")})}}});
    repository.check_in({{"a.yaml", {puzzles({cooked("one")})}}});
    const auto run = [&](const std::vector<std::string>& words, const std::vector<std::string>& more) {
        return run_in(repository.root(), command(words, more));
    };
    CHECK(run({"baseline", "accept", "b.jsonl"}, {"--reason", "known"}).status == 0);
    CHECK(run({"check", "--commit", "HEAD"}, {}).status == 1);
    const auto ran = run({"check", "--commit", "HEAD", "--baseline", "b.jsonl", "--strict-baseline"}, {});
    CHECK(ran.status == 0);
    CHECK(holds(ran.out, "Accepted by the baseline: 1 finding."));
}

TEST_CASE("baseline: wrong use and broken files") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({sound("one")}));
    CHECK(shelf.run({"baseline", "accept", "b.jsonl"}).status == 2); // no reason
    CHECK(shelf.run({"check", "--strict-baseline"}).status == 2);
    CHECK(shelf.run({"baseline", "keep", "b.jsonl"}).status == 2);
    CHECK(shelf.run({"baseline", "merge", "b.jsonl"}).status == 2);
    CHECK(prune(shelf).status == 2); // there is none
    CHECK(check(shelf).status == 2);
    shelf.write("b.jsonl", "<<<<<<< ours\n");
    const auto ran = check(shelf);
    CHECK(ran.status == 2);
    CHECK(holds(ran.err, "b.jsonl:1: this line is no entry of a baseline"));
    shelf.write("b.jsonl", "[[[[[[[[\n{\"puzzle\":1}\n");
    CHECK(check(shelf).status == 2);
    CHECK(accept(shelf).status == 2); // what is there is not thrown away
}
