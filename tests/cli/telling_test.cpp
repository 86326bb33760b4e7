// What the program tells about itself and about one puzzle: --why, --show-config, explain, the manual.
#include "harness.hpp"
#include "holds.hpp"
#include "rules/catalogue.hpp"

#include <sstream>

using harness::cooked;
using harness::puzzles;
using harness::Shelf;
using harness::sound;

namespace {

const char* const configuration = "effort: draft\n"                                                 // line 1
                                  "win-at: 1.5\n"                                                   // 2
                                  "rules:\n"                                                        // 3
                                  "  theme/*: warning\n"                                            // 4
                                  "  set/missing-field: {level: note, fields: [licence, source]}\n" // 5
                                  "overrides:\n"                                                    // 6
                                  "  - files: drafts/**\n"                                          // 7
                                  "    near: 0.5\n"                                                 // 8
                                  "    rules:\n"                                                    // 9
                                  "      key/cook: note\n"                                          // 10
                                  "      set/missing-field: {fields: source}\n";                    // 11

/// The line of a text that begins with these words, blanks run together; empty when there is none.
std::string row(const std::string& text, const std::string& begin) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        std::istringstream words(line);
        std::string told;
        for (std::string word; words >> word;) {
            told += (told.empty() ? "" : " ") + word;
        }
        if (told.starts_with(begin)) {
            return told;
        }
    }
    return "";
}

} // namespace

TEST_CASE("--show-config: every setting with the line that says so") {
    const Shelf shelf;
    shelf.write(".sidelint.yaml", configuration);
    shelf.write("a.yaml", puzzles({sound("one")}));
    shelf.write("drafts/b.yaml", puzzles({sound("two")}));
    const auto ran = shelf.run({"check", "--show-config"});
    CHECK(ran.status == 0);
    CHECK(ran.err.empty());
    CHECK(ran.out.starts_with("Configuration: .sidelint.yaml\n"));
    CHECK(row(ran.out, "effort") == "effort draft .sidelint.yaml:1");
    CHECK(row(ran.out, "win-at") == "win-at 1.50 .sidelint.yaml:2");
    CHECK(row(ran.out, "near") == "near 1.00 default");
    CHECK(row(ran.out, "exclude") == "exclude nothing default");
    CHECK(row(ran.out, "overrides") == "overrides drafts/** .sidelint.yaml:7");
    CHECK(row(ran.out, "key/cook") == "key/cook error default");
    CHECK(row(ran.out, "theme/missing") == "theme/missing warning .sidelint.yaml:4 (theme/*)");
    CHECK(row(ran.out, "set/missing-field") == "set/missing-field note .sidelint.yaml:5");
    CHECK(row(ran.out, "fields") == "fields licence,source .sidelint.yaml:5");

    const auto draft = shelf.run({"check", "--show-config", "drafts/b.yaml", "--rule", "line/*=off"});
    CHECK(row(draft.out, "For") == "For drafts/b.yaml");
    CHECK(row(draft.out, "near") == "near 0.50 .sidelint.yaml:8, for drafts/**");
    CHECK(row(draft.out, "key/cook") == "key/cook note .sidelint.yaml:10, for drafts/**");
    CHECK(row(draft.out, "fields") == "fields source .sidelint.yaml:11, for drafts/**");
    CHECK(row(draft.out, "set/missing-field") == "set/missing-field note .sidelint.yaml:5");
    CHECK(row(draft.out, "line/dual") == "line/dual off command line");
    CHECK(row(shelf.run({"check", "--show-config", "--effort", "press"}).out, "effort") ==
          "effort press command line");
}

TEST_CASE("--show-config: without a configuration, with a wrong one, with one of a revision") {
    const Shelf shelf;
    CHECK(holds(shelf.run({"check", "--show-config"}).out, "No .sidelint.yaml from here upward"));
    shelf.write(".sidelint.yaml", "efort: draft\n");
    const auto wrong = shelf.run({"check", "--show-config"});
    CHECK(wrong.status == 2);
    CHECK(holds(wrong.err, "did you mean effort?"));
    CHECK(shelf.run({"check", "--show-config", "--staged"}).status == 2);
    CHECK(shelf.run({"check", "--show-config", "--why", "one"}).status == 2);
    scratch::Repository repository;
    repository.check_in({{".sidelint.yaml", {"effort: press\n"}}});
    repository.check_in({{".sidelint.yaml", {"effort: draft\n"}}});
    const auto earlier =
        harness::run_in(repository.root(), {"check", "--show-config", "--config-from", "HEAD~1"});
    CHECK(holds(earlier.out, "Configuration: .sidelint.yaml of HEAD~1\n"));
    CHECK(row(earlier.out, "effort") == "effort press .sidelint.yaml:1");
}

TEST_CASE("--why: what was asked about a puzzle, and what was found") {
    const Shelf shelf;
    shelf.write(".sidelint.yaml", "effort: draft\nrules: {theme/unknown: \"off\"}\n");
    shelf.write("a.yaml",
                puzzles({cooked("one") + "    themes: [fork]\n"
                                         "    allow: [{rule: theme/unsupported, why: taught later}]\n",
                         sound("two")}));
    const auto ran = shelf.run({"check", "--why", "one"}, harness::with_tables());
    INFO(ran.out);
    CHECK(ran.status == 0);
    CHECK(ran.err.empty());
    CHECK(ran.out.starts_with("one: a.yaml:3\n"));
    CHECK(holds(ran.out, "White to move"));
    CHECK(row(ran.out, "goal") == "goal mate in 1, stated by a field");
    CHECK(row(ran.out, "solution") == "solution 1.Ra8#");
    CHECK(row(ran.out, "judged by")
              .starts_with("judged by draft effort (.sidelint.yaml:1), win-at 2.00, near"));
    CHECK(row(ran.out, "Ra8#") == "Ra8# key proved mate in 1 1.Ra8#");
    CHECK(row(ran.out, "Qd8#") == "Qd8# as good proved mate in 1 1.Qd8#");
    CHECK(holds(ran.out, "and 20 more"));
    CHECK(holds(ran.out, "Motifs of 1.Ra8#\n  main        back-rank-mate"));
    CHECK(row(ran.out, "key/cook") ==
          "key/cook error Qd8# solves it as well as the key Ra8# (mate in 1) (proved)");
    CHECK(row(ran.out, "theme/unsupported")
              .starts_with("theme/unsupported warning allowed, \"taught later\": "));
    CHECK(row(ran.out, "theme/unknown") == "theme/unknown off (.sidelint.yaml:2) not asked");
    CHECK(row(ran.out, "key/refuted") == "key/refuted error nothing");
    CHECK(holds(ran.out, "\nSearched "));
    CHECK(shelf.run({"check", "--why", "a.yaml:3"}, harness::with_tables()).out == ran.out);
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    REQUIRE(catalogue);
    for (const rules::RuleEntry& rule : catalogue->rules()) {
        CHECK_FALSE(row(ran.out, rule.id + " ").empty());
    }
}

TEST_CASE("--why: findings of the whole and of a baseline, play that cannot be judged, no such puzzle") {
    const Shelf shelf;
    shelf.write("a.yaml", puzzles({cooked("one")}));
    shelf.write("b.yaml", puzzles({sound("one"), "  - id: bare\n    fen: \"8/8/8/8/8/8/8/K7 w - - 0 1\"\n    "
                                                 "solution: \"1.Ka2\"\n"}));
    REQUIRE(shelf.run({"baseline", "accept", "base.jsonl", "--reason", "old", "--effort", "draft"}).status ==
            0);
    const auto ran = shelf.run({"check", "--why", "one", "--effort", "draft", "--baseline", "base.jsonl"});
    INFO(ran.out);
    CHECK(harness::count(ran.out, "\nRules\n") == 2); // two puzzles of that name
    CHECK(holds(row(ran.out, "key/cook"), "accepted by the baseline: "));
    CHECK(harness::count(ran.out, "already used in a.yaml, line 3") == 1); // told beside the second
    const auto bare = shelf.run({"check", "--why", "bare", "--effort", "draft"});
    CHECK(holds(bare.out, "Play was not judged: the diagram cannot be played."));
    CHECK_FALSE(holds(row(bare.out, "setup/kings"), "nothing"));
    const auto none = shelf.run({"check", "--why", "onee"});
    CHECK(none.status == 2);
    CHECK(none.out.empty());
    CHECK(holds(none.err, "did you mean one?"));
}

TEST_CASE("--why: a stranger's words stay on their lines") {
    const Shelf shelf;
    shelf.write("a.yaml", "puzzles:\n  - id: \"x\\nRules\\n  key/cook  error  nothing\\e[2J##[group]\"\n"
                          "    fen: \"7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 1\"\n    goal: mate in 1\n"
                          "    solution: \"1.Ra8#\"\n    themes: [\"::error::\\nx\"]\n");
    const auto ran = shelf.run({"check", "--why", "a.yaml:2", "--effort", "draft"});
    INFO(ran.out);
    CHECK(harness::count(ran.out, "\nRules\n") == 1);
    CHECK_FALSE(holds(ran.out, "\x1b"));
    CHECK_FALSE(holds(ran.out, "##["));
    CHECK_FALSE(holds(ran.out, "\n::"));
}

TEST_CASE("explain: what is in force here") {
    const Shelf shelf;
    CHECK_FALSE(holds(shelf.run({"explain", "key/cook"}).out, "In force here"));
    shelf.write(".sidelint.yaml", configuration);
    const auto field = shelf.run({"explain", "set/missing-field"});
    INFO(field.out);
    CHECK(row(field.out, "level") == "level note .sidelint.yaml:5");
    CHECK(row(field.out, "fields licence") == "fields licence,source .sidelint.yaml:5");
    CHECK(row(field.out, "fields in") == "fields in drafts/** source .sidelint.yaml:11, for drafts/**");
    CHECK(row(shelf.run({"explain", "key/cook"}).out, "level in") ==
          "level in drafts/** note .sidelint.yaml:10, for drafts/**");
    CHECK_FALSE(holds(shelf.run({"explain", "key/refuted"}).out, "In force here"));
    shelf.write(".sidelint.yaml", "efort: draft\n");
    const auto wrong = shelf.run({"explain", "key/cook"});
    CHECK(wrong.status == 2);
    CHECK(wrong.out.starts_with("key/cook: "));
    CHECK(holds(wrong.err, "did you mean effort?"));
}

TEST_CASE("explain --all: the reference in Markdown and JSON has every rule, motif and example") {
    const Shelf shelf;
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::yes);
    REQUIRE(catalogue);
    const auto page = shelf.run({"explain", "--all", "--format", "markdown"});
    CHECK(page.status == 0);
    const auto json = harness::json_of(shelf.run({"explain", "--all", "--format", "json"}));
    REQUIRE(json["rules"].size() == catalogue->rules().size());
    REQUIRE(json["motifs"].size() == catalogue->motifs().size());
    std::size_t examples = 0;
    for (std::size_t i = 0; i < catalogue->rules().size(); ++i) {
        const rules::RuleEntry& rule = catalogue->rules()[i];
        CHECK(holds(page.out, "<a id=\"" + rule.id + "\"></a>\n\n### " + rule.id + "\n"));
        CHECK(json["rules"][i]["id"] == rule.id);
        REQUIRE(json["rules"][i]["bad"].size() == rule.bad.size());
        examples += rule.bad.size() + rule.good.size();
        for (const rules::Example& example : rule.bad) {
            CHECK((holds(page.out, example.text) || holds(example.text, std::string(1, '\0'))));
            for (const auto& wanted : example.wanted) {
                const std::string line = wanted.line == 0 ? "" : "line " + std::to_string(wanted.line) + ": ";
                const std::string by =
                    wanted.rule.empty() ? "" : "[`" + wanted.rule + "`](#" + wanted.rule + "), ";
                INFO(rule.id << " " << example.title);
                CHECK(holds(page.out, "\n- " + line + by + "`" + wanted.message_id + "`"));
            }
        }
        for (const std::string& other : rule.see) {
            CHECK(holds(page.out, "](#" + other + ")"));
        }
    }
    CHECK(harness::count(page.out, "\n#### Found in: ") + harness::count(page.out, "\n#### All right: ") ==
          examples);
    CHECK(harness::count(page.out, "```") % 2 == 0);
    CHECK(std::none_of(page.out.begin(), page.out.end(),
                       [](char c) { return c >= 0 && c < ' ' && c != '\n' && c != '\t'; }));
    for (std::size_t i = 0; i < catalogue->motifs().size(); ++i) { // where books differ, and what counts then
        const rules::MotifEntry& motif = catalogue->motifs()[i];
        CHECK(json["motifs"][i]["disputed"].is_null() == motif.disputed.chosen.empty());
        CHECK(json["motifs"][i]["wide"].size() == motif.wide.size());
        CHECK((motif.disputed.wider.empty() || holds(page.out, "`themes: {wide: [" + motif.motif + "]}`")));
        for (const auto& shown : motif.wide) {
            CHECK(holds(page.out, "`" + shown.fen + "`, `" + shown.line + "`"));
        }
    }
    CHECK(holds(page.out, "\nAlso bears out [fork](#motif/fork), [knight fork](#motif/knight-fork), [royal "
                          "fork](#motif/royal-fork).\n"));
    const auto one = shelf.run({"explain", "key/cook", "--format", "markdown"});
    CHECK(holds(page.out, one.out));
    CHECK(harness::json_of(shelf.run({"explain", "fork", "--format", "json"}))["id"] == "fork");
    CHECK(shelf.run({"explain", "fork", "--format", "pdf"}).status == 2);
}

TEST_CASE("the manual has every command and option, and the date it is told") {
    const Shelf shelf;
    const auto page = shelf.run({"manual"}, {{"SOURCE_DATE_EPOCH", "1767225600"}});
    CHECK(page.status == 0);
    CHECK(page.out.starts_with(".TH SIDELINT 1 \"2026-01-01\" \"sidelint "));
    for (const char* part : {".SS sidelint check\n", ".SS sidelint hook add\n", "\\fB\\-\\-show\\-config\\fR",
                             ".SH EXIT STATUS\n", ".SH EXAMPLES\n", ".SH ENVIRONMENT\n"}) {
        CHECK(holds(page.out, part));
    }
    CHECK(harness::count(page.out, "sidelint explain key/cook") ==
          2); // an example of the program and one of explain
    CHECK(shelf.run({"manual"}).out.starts_with(".TH SIDELINT 1 \"\" "));
    for (const char* no_date : {"", "-5", "soon", "99999999999999999999"}) {
        CHECK(shelf.run({"manual"}, {{"SOURCE_DATE_EPOCH", no_date}}).out == shelf.run({"manual"}).out);
    }
}
