// The ways a change is written, each read back by what is not ours: a terminal (python3-pyte),
// python3-jsonschema, cmark-gfm. The page is opened by ci/browser.
#include "catch.hpp"
#include "holds.hpp"
#include "outside.hpp"
#include "report/changes.hpp"

#include <nlohmann/json.hpp>

using Json = nlohmann::json;

namespace {

const std::string markup_in_text = "##[error]::warning::<b>@name #12 `x` |\x1b[31m [a](http://x)";

rules::Finding finding(rules::Status status) {
    rules::Finding finding;
    finding.rule = "key/cook";
    finding.severity = rules::Severity::error;
    finding.message = markup_in_text;
    finding.file = markup_in_text + ".yaml";
    finding.puzzle = markup_in_text;
    finding.fingerprint = "00000000000000a1";
    finding.status = status;
    return finding;
}

report::Changes changes() {
    report::Changes changes;
    changes.version = "0.1.0";
    changes.effort = "review";
    changes.before = "HEAD~1";
    changes.after = "the worktree";
    report::PuzzleChange changed;
    changed.id = markup_in_text;
    changed.file = markup_in_text + ".yaml";
    changed.line = 7;
    changed.fields = {{"position", {"black pawn h7 gone"}}, {"source", {markup_in_text}}};
    changed.fresh = {finding(rules::Status::fresh)};
    changed.gone = {finding(rules::Status::gone)};
    changed.still = 1;
    report::PuzzleChange added;
    added.change = history::Change::added;
    added.id = "b";
    added.file = "b.yaml";
    added.summary = "white to move; mate in 1";
    changes.puzzles = {changed, added};
    changes.elsewhere = {finding(rules::Status::gone)};
    changes.unchanged = 3;
    changes.remarks = {markup_in_text};
    return changes;
}

/// As people have them: names that fit on a line.
report::Changes tame() {
    report::Changes tame = changes();
    const std::string word = "a b c d e f g h i j k l m n o p q r s t u v w x y z ";
    for (rules::Finding* finding :
         {&tame.puzzles[0].fresh[0], &tame.puzzles[0].gone[0], &tame.elsewhere[0]}) {
        finding->message = word + word;
        finding->file = finding->puzzle = "a.yaml";
    }
    tame.puzzles[0].id = tame.puzzles[0].file = "a.yaml";
    tame.puzzles[0].id_before = word + word;
    tame.puzzles[0].fields[1].words = {word + word + "\xE6\xA3\x8B", word};
    tame.remarks = {word + word};
    return tame;
}

} // namespace

TEST_CASE("changes: text") {
    const std::string text = report::changes_text(changes());
    CHECK(holds(text, ":7: "));
    CHECK(holds(text, "    position   black pawn h7 gone\n"));
    CHECK(holds(text, "b.yaml:1: b added\n"));
    CHECK(holds(text, "white to move; mate in 1\n"));
    CHECK(holds(text,
                "From HEAD~1 to the worktree: 1 changed, 1 added; findings: 1 new, 2 gone, 1 still there; "
                "3 unchanged in these files (review effort).\n"));
    CHECK_FALSE(holds(text, "##["));
    CHECK_FALSE(holds(text, "\x1b"));
    CHECK_FALSE(holds(text, "\n::"));
}

TEST_CASE("changes: a terminal shows in colour what it shows without, within its width") {
    std::vector<std::string> texts;
    for (const report::Changes& one : {changes(), tame()}) {
        for (const std::size_t columns : outside::terminals) {
            report::Look look;
            look.width = columns;
            texts.push_back(report::changes_text(one, look));
            look.colour = report::Colour::yes;
            texts.insert(texts.end() - 1, report::changes_text(one, look));
        }
    }
    CHECK(holds(texts[0], "\x1b[1;31mnew\x1b[0m        "));
    CHECK(holds(texts[0], "\x1b[1mgone\x1b[0m       "));
    const auto middle = texts.begin() + 6;
    CHECK(outside::read_back("terminal.py flows 60 80 200", {texts.begin(), middle}) == "");
    CHECK(outside::read_back("terminal.py fits 60 80 200", {middle, texts.end()}) == "");
}

TEST_CASE("changes: JSON") {
    const std::string text = report::changes_json(changes());
    CHECK_FALSE(holds(text, "##["));
    const Json json = Json::parse(text);
    CHECK(json["run"] == Json{{"effort", "review"}, {"before", "HEAD~1"}, {"after", "the worktree"}});
    CHECK(json["unchanged"] == 3);
    REQUIRE(json["puzzles"].size() == 2);
    const Json& changed = json["puzzles"][0];
    CHECK(changed["change"] == "changed");
    CHECK(changed["id"] == markup_in_text);
    CHECK(changed["id_before"].is_null());
    CHECK(changed["fields"][0] == Json{{"field", "position"}, {"words", {"black pawn h7 gone"}}});
    CHECK(changed["findings"][0]["status"] == "new");
    CHECK(changed["findings"][1]["status"] == "gone");
    CHECK(changed["still"] == 1);
    CHECK(json["puzzles"][1]["summary"] == "white to move; mate in 1");
    CHECK(json["elsewhere"].size() == 1);
    CHECK(outside::json_faults(text, report::changes_schema()) == "");
    CHECK(outside::json_faults(report::changes_json({}), report::changes_schema()) !=
          ""); // no effort is stated
}

TEST_CASE("changes: in Markdown the collection's text is text") {
    const std::string text = report::changes_markdown(changes());
    CHECK(holds(text, "### From HEAD&#126;1 to the worktree\n"));
    CHECK(holds(text, "  - position: black pawn h7 gone\n"));
    for (const char* markup : {"<b>", "@name", "`", "](", "##[", "\x1b", "::", "|", " #12"}) {
        INFO(markup);
        CHECK_FALSE(holds(text, markup));
    }
    const std::string html = outside::html_of(text);
    for (const char* markup : {"<a ", "<b>", "<code>", "@name", "#12"}) {
        INFO(markup);
        CHECK_FALSE(holds(html, markup));
    }
    CHECK(holds(html, "position: black pawn h7 gone"));
    CHECK(holds(html, "[a](http"));
}

TEST_CASE("changes: a summary that hosts would drop is cut and says so") {
    report::Changes many = changes();
    many.puzzles.assign(20'000, many.puzzles[0]);
    const std::string text = report::changes_markdown(many);
    CHECK(text.size() < 1024 * 1024);
    CHECK(holds(text, " more left out: the summary would be too long.\n"));
}
