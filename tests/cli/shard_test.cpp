// A run that several machines share tells the bytes of one run.
#include "harness.hpp"
#include "holds.hpp"

using harness::cooked;
using harness::puzzles;
using harness::Ran;
using harness::run_in;
using harness::sound;
using harness::sound_too;

namespace {

/// Faults of puzzles, of a file, and of two puzzles together.
void fill_faulty(const harness::Shelf& shelf) {
    shelf.write("a.yaml", puzzles({cooked("one"), sound("two"), sound_too("three"), cooked("four")}));
    shelf.write("b.yaml", puzzles({sound("two"), cooked("five") + "    themes: [nonsense]\n"}));
    shelf.write("c.epd", "7k/5ppp/8/8/8/8/8/R2Q2K1 w - - bm Ra8#; dm 1; id \"c\";\nno puzzle\n");
}

std::vector<std::string> parts_of(const harness::Shelf& shelf, int of,
                                  const std::vector<std::string>& more = {}) {
    std::vector<std::string> names;
    for (int k = 1; k <= of; ++k) {
        names.push_back("part-" + std::to_string(k));
        std::vector<std::string> words{
            "check",    "--shard",     std::to_string(k) + "/" + std::to_string(of),
            "-q",       "--format",    "part=" + names.back(),
            "--format", "text=log.txt"};
        words.insert(words.end(), more.begin(), more.end());
        const Ran ran = shelf.run(words);
        INFO(ran.err);
        CHECK((ran.status == 0 || ran.status == 1));
    }
    return names;
}

Ran merge(const harness::Shelf& shelf, std::vector<std::string> names,
          const std::vector<std::string>& more = {}) {
    names.insert(names.begin(), "merge");
    names.insert(names.end(), more.begin(), more.end());
    return shelf.run(names);
}

} // namespace

TEST_CASE("parts joined are the report of one run, in every format, and with its status") {
    const harness::Shelf shelf;
    fill_faulty(shelf);
    for (const int of : {1, 2, 3, 7}) {
        const auto names = parts_of(shelf, of);
        for (const std::string format : {"text", "json", "sarif", "junit", "markdown", "html"}) {
            INFO(of << ' ' << format);
            const Ran one = shelf.run({"check", "--format", format, "--detail", "puzzles", "--overview"});
            const Ran joint = merge(shelf, names, {"--format", format, "--detail", "puzzles", "--overview"});
            CHECK(joint.status == one.status);
            CHECK(joint.out == one.out);
        }
    }
}

TEST_CASE("every puzzle belongs to one part") {
    const harness::Shelf shelf;
    fill_faulty(shelf);
    std::size_t checked = 0;
    for (int k = 1; k <= 3; ++k) {
        const Ran ran = shelf.run({"check", "--shard", std::to_string(k) + "/3", "--format", "json"});
        checked += harness::json_of(ran)["summary"]["puzzles"].get<std::size_t>();
    }
    CHECK(checked == 8); // the line that is no puzzle counts as one
}

TEST_CASE("a part that is missing, there twice, or of another run is refused") {
    const harness::Shelf shelf;
    fill_faulty(shelf);
    const auto names = parts_of(shelf, 3);
    const Ran missing = merge(shelf, {names[0], names[2]});
    CHECK(missing.status == 3);
    CHECK(holds(missing.err, "part 2 of 3 is missing"));
    CHECK(holds(missing.err, "sidelint check --shard 2/3"));
    const Ran twice = merge(shelf, {names[0], names[1], names[1], names[2]});
    CHECK(twice.status == 3);
    CHECK(holds(twice.err, "are both part 2 of 3"));

    shelf.write("a.yaml", puzzles({sound("one")}));
    parts_of(shelf, 3); // overwrites all three; one of them is then put back
    const std::string later = shelf.read("part-2");
    fill_faulty(shelf);
    parts_of(shelf, 3);
    shelf.write("part-2", later);
    const Ran mixed = merge(shelf, names);
    CHECK(mixed.status == 3);
    CHECK(holds(mixed.err, "are not parts of one run"));
    parts_of(shelf, 3);
    const std::string review = shelf.read("part-3");
    parts_of(shelf, 3, {"--effort", "draft"});
    shelf.write("part-3", review);
    CHECK(merge(shelf, names).status == 3);
}

TEST_CASE("what is no part is refused, whatever it holds") {
    const harness::Shelf shelf;
    fill_faulty(shelf);
    const auto names = parts_of(shelf, 1);
    const std::string whole = shelf.read(names.front());
    for (const std::string& text :
         {std::string(), std::string("not a part"), whole.substr(0, whole.size() / 2), std::string("\x80", 1),
          std::string(1000, '\x93')}) {
        shelf.write("bad", text);
        const Ran ran = merge(shelf, {"bad"});
        CHECK(ran.status == 3);
        CHECK(holds(ran.err, "bad: this is no part of a report"));
    }
    CHECK(merge(shelf, {"nowhere"}).status == 3);
}

TEST_CASE("parts of a comparison, too") {
    scratch::Repository repository;
    repository.check_in({{"a.yaml", {puzzles({cooked("one"), sound_too("two")})}}});
    repository.check_in(
        {{"a.yaml",
          {puzzles({sound("one"), sound_too("two") + "    themes: [nonsense]\n", sound_too("three")})}}});
    std::vector<std::string> words{"merge"};
    for (const std::string k : {"1", "2"}) {
        const std::string file = repository.root() + "-part-" + k;
        CHECK(run_in(repository.root(), {"check", "--commit", "HEAD", "--shard", k + "/2", "--format",
                                         "part=" + file, "--fail-on", "never", "-q"})
                  .status == 0);
        words.push_back(file);
    }
    words.insert(words.end(), {"--format", "json"});
    const Ran one = run_in(repository.root(), {"check", "--commit", "HEAD", "--format", "json"});
    const Ran joint = run_in(repository.root(), words);
    CHECK(joint.out == one.out);
    CHECK(joint.status == one.status);
    CHECK(harness::json_of(one)["summary"]["history"]["gone"] == 1);
}

TEST_CASE("shards that make no sense are wrong use") {
    const harness::Shelf shelf;
    fill_faulty(shelf);
    for (const std::string shard : {"0/2", "3/2", "1", "/2", "1/", "a/b", "1/0", "1/99999", "-1/2"}) {
        INFO(shard);
        CHECK(shelf.run({"check", "--shard", shard}).status == 2);
    }
    CHECK(shelf.run({"check", "--format", "part"}).status == 2);
    CHECK(shelf.run({"merge"}).status == 2);
}
