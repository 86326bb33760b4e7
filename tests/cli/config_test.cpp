#include "config/config.hpp"
#include "config/keys.hpp"
#include "harness.hpp"
#include "holds.hpp"

#include <sstream>

using harness::cooked;
using harness::puzzles;
using harness::Shelf;
using harness::sound;

namespace {

const rules::Catalogue& catalogue() {
    static const auto read = rules::Catalogue::read(rules::WithExamples::no);
    REQUIRE(read.ok());
    return *read;
}

} // namespace

TEST_CASE("config: errors end in status 2 and nothing is checked") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one")}));
    shelf.write(".sidelint.yaml", "rulez: {}\neffort: slow\n");
    const auto ran = shelf.run({"check"});
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(holds(ran.err, "sidelint: .sidelint.yaml:1:1: unknown key 'rulez'\n  did you mean rules?\n"));
    CHECK(holds(ran.err, "sidelint: .sidelint.yaml:2:9: 'slow' is none of draft, review, press\n"));
}

TEST_CASE("config: the nearest one upward counts, reported paths stay relative to the root") {
    const Shelf shelf;
    shelf.write(".git/HEAD", "ref: refs/heads/main\n");
    shelf.write(".sidelint.yaml", "rules: {key/cook: note}\n");
    shelf.write("sets/.sidelint.yaml", "rules: {key/cook: warning}\n");
    shelf.write("sets/old/a.yaml", puzzles({cooked("one")}));
    CHECK(holds(shelf.run({"check", "sets/old"}).out, "sets/old/a.yaml:6:18: warning key/cook"));
    CHECK(holds(shelf.run({"check"}).out, "sets/old/a.yaml:6:18: note key/cook"));
    const auto inside = harness::run_in(shelf.path() / "sets/old", {"check", "a.yaml"});
    CHECK(holds(inside.out, "sets/old/a.yaml:6:18: warning key/cook"));
    CHECK(holds(harness::run_in(shelf.path() / "sets/old", {"check"}).out,
                "sets/old/a.yaml:6:18: warning key/cook"));
    shelf.write("other.yaml", "rules: {key/cook: error}\n");
    CHECK(shelf.run({"check", "--config", "other.yaml", "sets"}).status == 1);
    CHECK(shelf.run({"check", "--config", "not-there.yaml", "sets"}).status == 2);
}

TEST_CASE("config: include, exclude and overrides decide what is checked and how") {
    const Shelf shelf;
    shelf.write("sets/a.yaml", puzzles({cooked("one")}));
    shelf.write("drafts/b.yaml", puzzles({cooked("two")}));
    shelf.write(".sidelint.yaml", "include: [\"sets/**\"]\n");
    CHECK_FALSE(holds(shelf.run({"check"}).out, "drafts/b.yaml"));
    CHECK(holds(shelf.run({"check", "drafts/b.yaml"}).out, "drafts/b.yaml:6:18: error key/cook"));
    shelf.write(".sidelint.yaml", "exclude: [\"drafts/**\"]\n");
    CHECK_FALSE(holds(shelf.run({"check"}).out, "drafts/b.yaml"));
    const auto named = shelf.run({"check", "drafts/b.yaml"});
    CHECK(named.status == 2);
    CHECK(holds(named.err, "excluded are drafts/**"));
    shelf.write(".sidelint.yaml", "overrides: [{files: \"drafts/**\", rules: {key/*: note}}]\n");
    const auto both = shelf.run({"check"});
    CHECK(holds(both.out, "drafts/b.yaml:6:18: note key/cook"));
    CHECK(holds(both.out, "sets/a.yaml:6:18: error key/cook"));
    CHECK(holds(shelf.run({"check", "--rule", "key/*=warning"}).out, "drafts/b.yaml:6:18: warning key/cook"));
}

TEST_CASE("config: what init writes is read without a fault, with and without the comment signs") {
    const Shelf shelf;
    CHECK(shelf.run({"init"}).status == 0);
    const std::string written = shelf.read(".sidelint.yaml");
    const auto as_written = config::read(written, "c.yaml", "", catalogue());
    REQUIRE(as_written.ok());
    CHECK(as_written->settings.levels.empty());
    std::istringstream lines(written);
    std::string live;
    bool meaning = true; // the first line of each paragraph
    bool head = true;    // the first paragraph
    for (std::string line; std::getline(lines, line);) {
        if (line.empty()) {
            meaning = true;
            head = false;
        } else if (!head && !meaning) {
            live += line.substr(2) + '\n';
        } else {
            meaning = false;
        }
    }
    for (const auto& key : config::top_keys()) {
        CHECK((key.spec.example.empty() || holds(live, std::string(key.spec.name) + ":")));
    }
    INFO(live);
    CHECK(config::read(live, "c.yaml", "", catalogue()).ok());
    const auto again = shelf.run({"init"});
    CHECK(again.status == 2);
    CHECK(holds(again.err, "is there already"));
    CHECK(shelf.read(".sidelint.yaml") == written);
}

TEST_CASE("config: the schema names every key and every rule") {
    const Shelf shelf;
    const auto ran = shelf.run({"schema", "config"});
    REQUIRE(ran.status == 0);
    const auto schema = nlohmann::json::parse(ran.out);
    CHECK(schema["additionalProperties"] == false);
    const auto& properties = schema["properties"];
    for (const auto& key : config::settings_keys()) {
        CHECK(properties.contains(std::string(key.spec.name)));
        CHECK(properties["overrides"]["items"]["properties"].contains(std::string(key.spec.name)));
    }
    for (const auto& key : config::top_keys()) {
        CHECK(properties.contains(std::string(key.spec.name)));
    }
    for (const auto& key : config::table_keys()) {
        CHECK(properties["tables"]["items"]["properties"].contains(std::string(key.spec.name)));
    }
    for (const auto& key : config::column_keys()) {
        CHECK(properties["tables"]["items"]["properties"]["columns"]["properties"].contains(
            std::string(key.spec.name)));
    }
    for (const auto& key : config::tag_keys()) {
        CHECK(properties["tags"]["items"]["properties"].contains(std::string(key.spec.name)));
    }
    for (const auto& rule : catalogue().rules()) {
        CHECK(properties["rules"]["properties"].contains(rule.id));
    }
    CHECK(properties["effort"]["enum"] == nlohmann::json{"draft", "review", "press"});
    CHECK(nlohmann::json::parse(shelf.run({"schema", "report"}).out)["title"] ==
          "sidelint report, version 1");
}

TEST_CASE("config: an override decides about rules of the whole by the file a finding stands in") {
    const Shelf shelf;
    shelf.write("drafts/b.yaml", puzzles({sound("same")}));
    shelf.write("sets/c.yaml", puzzles({sound("same")}));
    shelf.write("sets/d.yaml", puzzles({sound("same")}));
    const std::string file = ".sidelint.yaml";
    shelf.write(file, "overrides: [{files: sets/d.yaml, rules: {set/duplicate-id: note}}]\n");
    const auto milder = shelf.run({"check"}).out;
    CHECK(holds(milder, "sets/c.yaml:3:9: error set/duplicate-id"));
    CHECK(holds(milder, "sets/d.yaml:3:9: note set/duplicate-id"));
    shelf.write(file, "overrides: [{files: \"sets/**\", rules: {set/*: off}}]\n");
    CHECK_FALSE(holds(shelf.run({"check"}).out, "set/duplicate"));
    shelf.write(file, "rules: {set/*: off}\noverrides: [{files: sets/d.yaml, rules: {set/duplicate-id: "
                      "warning}}]\n");
    const auto only = shelf.run({"check"}).out;
    CHECK(holds(only, "sets/d.yaml:3:9: warning set/duplicate-id"));
    CHECK(harness::count(only, " set/duplicate-id: ") == 1);
    CHECK_FALSE(holds(only, "set/duplicate-position"));
    CHECK(harness::count(shelf.run({"check", "--rule", "set/*=error"}).out, "error set/duplicate-id") == 2);
    CHECK_FALSE(holds(shelf.run({"check", "--rule", "set/*=off"}).out, "set/duplicate"));
}
