// The three ways a change is written: each is read back or held against what hosts would make of it.
#include "catch.hpp"
#include "report/changes.hpp"

#include <nlohmann/json.hpp>

using Json = nlohmann::json;

namespace {

const std::string hostile = "##[error]::warning::<b>@name #12 `x` |\x1b[31m [a](http://x)";

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

rules::Finding finding(rules::Status status) {
    rules::Finding finding;
    finding.rule = "key/cook";
    finding.severity = rules::Severity::error;
    finding.message = hostile;
    finding.file = hostile + ".yaml";
    finding.puzzle = hostile;
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
    changed.id = hostile;
    changed.file = hostile + ".yaml";
    changed.line = 7;
    changed.fields = {{"position", {"black pawn h7 gone"}}, {"source", {hostile}}};
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
    changes.remarks = {hostile};
    return changes;
}

} // namespace

TEST_CASE("changes: text") {
    const std::string text = report::changes_text(changes(), report::Colour::no);
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
    CHECK(holds(report::changes_text(changes(), report::Colour::yes), "\x1b[1;31mnew"));
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
    CHECK(changed["id"] == hostile);
    CHECK(changed["id_before"].is_null());
    CHECK(changed["fields"][0] == Json{{"field", "position"}, {"words", {"black pawn h7 gone"}}});
    CHECK(changed["findings"][0]["status"] == "new");
    CHECK(changed["findings"][1]["status"] == "gone");
    CHECK(changed["still"] == 1);
    CHECK(json["puzzles"][1]["summary"] == "white to move; mate in 1");
    CHECK(json["elsewhere"].size() == 1);
}

TEST_CASE("changes: in Markdown the collection's text is text") {
    const std::string text = report::changes_markdown(changes());
    CHECK(holds(text, "### From HEAD&#126;1 to the worktree\n"));
    CHECK(holds(text, "  - position: black pawn h7 gone\n"));
    for (const char* markup : {"<b>", "@name", "`", "](", "##[", "\x1b", "::", "|", " #12"}) {
        INFO(markup);
        CHECK_FALSE(holds(text, markup));
    }
}

TEST_CASE("changes: a summary that hosts would drop is cut and says so") {
    report::Changes many = changes();
    many.puzzles.assign(20'000, many.puzzles[0]);
    const std::string text = report::changes_markdown(many);
    CHECK(text.size() < 1024 * 1024);
    CHECK(holds(text, " more left out: the summary would be too long.\n"));
}
