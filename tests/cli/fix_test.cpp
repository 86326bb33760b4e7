// sidelint fix: what it changes, what it leaves, and how it ends.
#include "harness.hpp"
#include "holds.hpp"

#include <algorithm>
#include <filesystem>
#include <thread>
#include <tuple>

using harness::json_of;
using harness::puzzles;
using harness::run_in;
using harness::Shelf;
using harness::sound;

namespace {

namespace fs = std::filesystem;

const std::string diagram = "6k1/5ppp/8/8/8/8/5PPP/3R2K1";

std::string entry(const std::string& id, const std::string& fen, const std::string& solution,
                  const std::string& more = "goal: mate in 1") {
    return "  - id: " + id + "\n    fen: \"" + fen + "\"\n    solution: \"" + solution + "\"\n    " + more +
           "\n";
}

harness::Ran fix(const Shelf& shelf, std::vector<std::string> more = {}) {
    more.insert(more.begin(), {"fix", "--effort", "draft"});
    return shelf.run(more, harness::with_tables());
}

std::string with_crlf(std::string text) {
    for (std::size_t at = text.find('\n'); at != std::string::npos; at = text.find('\n', at + 2)) {
        text.insert(at, "\r");
    }
    return text;
}

/// What `check` says it could write, done by hand.
std::string by_json(const Shelf& shelf, const std::string& path) {
    const auto json =
        json_of(shelf.run({"check", path, "--effort", "draft", "--format", "json"}, harness::with_tables()));
    std::vector<nlohmann::json> edits;
    for (const auto& finding : json["findings"]) {
        if (!finding["fix"].is_null() && finding["fix"]["kind"] == "safe") {
            edits.insert(edits.end(), finding["fix"]["edits"].begin(), finding["fix"]["edits"].end());
        }
    }
    std::sort(edits.begin(), edits.end(),
              [](const auto& a, const auto& b) { return a["begin"] > b["begin"]; });
    std::string text = shelf.read(path);
    for (const auto& edit : edits) {
        const auto begin = edit["begin"].get<std::size_t>();
        text.replace(begin, edit["end"].get<std::size_t>() - begin, edit["text"].get<std::string>());
    }
    return text;
}

/// Byte that a place of SARIF names: lines and columns from 1, columns in code points, a byte order mark
/// none.
std::size_t offset_of(const std::string& text, std::size_t line, std::size_t column) {
    std::size_t at = text.starts_with("\xef\xbb\xbf") ? 3 : 0;
    for (; line > 1; --line) {
        at = text.find('\n', at) + 1;
    }
    for (; column > 1; --column) {
        ++at;
        while (at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80) {
            ++at;
        }
    }
    return at;
}

/// The same by what SARIF says of safe corrections.
std::string by_sarif(const Shelf& shelf, const std::string& path) {
    const auto log =
        json_of(shelf.run({"check", path, "--effort", "draft", "--format", "sarif"}, harness::with_tables()));
    std::string text = shelf.read(path);
    std::vector<std::tuple<std::size_t, std::size_t, std::string>> edits;
    for (const auto& result : log["runs"][0]["results"]) {
        if (!result.contains("fixes") ||
            !holds(result["fixes"][0]["description"]["text"].get<std::string>(), "means what it meant")) {
            continue;
        }
        for (const auto& replacement : result["fixes"][0]["artifactChanges"][0]["replacements"]) {
            const auto& region = replacement["deletedRegion"];
            edits.emplace_back(offset_of(text, region["startLine"], region["startColumn"]),
                               offset_of(text, region["endLine"], region["endColumn"]),
                               replacement["insertedContent"]["text"]);
        }
    }
    std::sort(edits.rbegin(), edits.rend());
    for (const auto& [begin, end, bytes] : edits) {
        text.replace(begin, end - begin, bytes);
    }
    return text;
}

/// Fixing `wrong` gives `right`, with any line ends and marks, and once more changes nothing.
void check_becomes(const std::string& name, const std::string& wrong, const std::string& right) {
    const std::string mark = "\xef\xbb\xbf";
    for (const auto& [before, after] :
         {std::pair(wrong, right), std::pair(with_crlf(wrong), with_crlf(right)),
          std::pair(mark + wrong, mark + right),
          std::pair(wrong.substr(0, wrong.size() - 1), right.substr(0, right.size() - 1))}) {
        const Shelf shelf;
        shelf.write(
            ".sidelint.yaml",
            "tables: [{files: \"*.csv\", columns: {id: id, fen: fen, solution: moves, themes: tags}}]\n");
        shelf.write(name, before);
        CHECK(by_json(shelf, name) == after);
        CHECK(by_sarif(shelf, name) == after);
        const auto ran = fix(shelf);
        INFO(ran.out << ran.err);
        CHECK(ran.status == 0);
        CHECK(shelf.read(name) == after);
        const auto again = fix(shelf);
        CHECK(holds(again.out, "Nothing to correct."));
        CHECK(shelf.read(name) == after);
    }
}

} // namespace

TEST_CASE("fix: moves, castling rights and themes in a collection file") {
    check_becomes("a.yaml",
                  puzzles({entry("a", diagram + " w KQ - 0 1", "1. Rd8+", "themes: [\"backrank-mate\"]"),
                           sound("untouched")}),
                  puzzles({entry("a", diagram + " w - - 0 1", "1. Rd8#", "themes: [\"back-rank mate\"]"),
                           sound("untouched")}));
}

TEST_CASE("fix: PGN, with Latin-1 beside what is corrected") {
    check_becomes("a.pgn",
                  "[Event \"M\xe4rz \\\"23\\\"\"]\n[FEN \"" + diagram +
                      " w - e6 0 1\"]\n[Themes \"skewwer, back rank\"]\n\n1. Rd8 {gro\xdf} *\n",
                  "[Event \"M\xe4rz \\\"23\\\"\"]\n[FEN \"" + diagram +
                      " w - - 0 1\"]\n[Themes \"skewer, back rank\"]\n\n1. Rd8# {gro\xdf} *\n");
}

TEST_CASE("fix: EPD") {
    check_becomes("a.epd", diagram + " w Kq - bm Rd8#; id \"one\";\n",
                  diagram + " w - - bm Rd8#; id \"one\";\n");
}

TEST_CASE("fix: table cells in quotes and without") {
    check_becomes(
        "a.csv",
        "id,fen,moves,tags\n1," + diagram + " w Q - 0 1,\"1.Rd8 {a \"\"rook\"\"}\",\"skewwer,pin\"\n",
        "id,fen,moves,tags\n1," + diagram + " w - - 0 1,\"1.Rd8# {a \"\"rook\"\"}\",\"skewer,pin\"\n");
}

TEST_CASE("fix: numbers, zeros for castling, promotion signs, in variations too") {
    const std::string castling = "2rkr3/2p1p3/8/8/8/8/8/R3K3 w Q - 0 1";
    check_becomes(
        "a.yaml",
        puzzles({entry("zeros", castling, "1.0-0-0"),
                 entry("numbers", "1k6/1p6/7R/8/5K2/4Q3/8/8 w - - 0 1", "1.Rh7 Ka8 (1...b5 3.Qe8) 3.Rh8#",
                       "goal: mate in 2"),
                 entry("promotion", "7k/P7/6K1/8/8/8/8/8 w - - 0 1", "1.a8Q", "accept: [\"a8=R#\"]")}),
        puzzles({entry("zeros", castling, "1.O-O-O#"),
                 entry("numbers", "1k6/1p6/7R/8/5K2/4Q3/8/8 w - - 0 1", "1.Rh7 Ka8 (1...b5 2.Qe8#) 2.Rh8#",
                       "goal: mate in 2"),
                 entry("promotion", "7k/P7/6K1/8/8/8/8/8 w - - 0 1", "1.a8=Q#", "accept: [\"a8=R#\"]")}));
}

TEST_CASE("fix: a side to move that the solution contradicts, in every statement of it") {
    const std::string fen = "1k6/1p6/7R/8/5K2/4Q3/8/8";
    const auto with = [&](const std::string& side, const std::string& field) {
        return puzzles({entry("a", fen + " " + side + " - - 0 1", "1.Rh7 Ka8 2.Rh8#",
                              "goal: mate in 2\n    to-move: " + field)});
    };
    check_becomes("a.yaml", with("b", "Black"), with("w", "White"));
}

TEST_CASE("fix: what may change the meaning is listed, and made by its fingerprint alone") {
    const Shelf shelf;
    const std::string text = puzzles({entry("a", diagram + " b - - 0 1", "Rd8#"),
                                      entry("b", "1k6/ppp5/8/8/8/8/PPP5/1K2R3 w - - 0 1", "1.Re8")});
    shelf.write("a.yaml", text);
    const auto listed = fix(shelf);
    CHECK(listed.status == 0);
    CHECK(holds(listed.out, "1 suggestion"));
    CHECK(holds(listed.out, "'w' instead of 'b'"));
    CHECK(holds(shelf.read("a.yaml"), diagram + " b "));
    CHECK(holds(shelf.read("a.yaml"), "1.Re8#"));

    const auto json = json_of(shelf.run({"check", "--effort", "draft", "--format", "json"}));
    std::string fingerprint;
    for (const auto& finding : json["findings"]) {
        fingerprint =
            finding["rule"] == "turn/swapped" ? finding["fingerprint"].get<std::string>() : fingerprint;
    }
    shelf.write("a.yaml", text);
    const auto ran = fix(shelf, {"--apply", fingerprint});
    CHECK(ran.status == 0);
    CHECK(holds(shelf.read("a.yaml"), diagram + " w "));
    CHECK_FALSE(holds(shelf.read("a.yaml"), "1.Re8#"));
    const auto unknown = fix(shelf, {"--apply", "0123456789abcdef"});
    CHECK(unknown.status == 2);
    CHECK(holds(unknown.err, "no correction has this fingerprint"));
}

TEST_CASE("fix: a puzzle that would get a new error is left as it was, the others are corrected") {
    const Shelf shelf;
    const std::string fen = "1k6/1p6/7R/8/5K2/4Q3/8/8";
    // The side is wrong, and with the right one the line is no mate in one.
    const std::string bad = entry("a", fen + " b - - 0 1", "1.Rh7 Ka8 2.Rh8#", "goal: mate in 1");
    shelf.write("bad.yaml", puzzles({bad}));
    shelf.write("mixed.yaml", puzzles({entry("b", diagram + " w - - 0 1", "1.Rd8"), bad,
                                       entry("c", diagram + " w Q - 0 1", "1.Rd8#")}));
    const auto ran = fix(shelf, {"--rule", "set/*=off"});
    INFO(ran.out);
    CHECK(ran.status == 1);
    CHECK(holds(ran.out, "bad.yaml: a is left as it was: corrected it would have a new error: "));
    CHECK(holds(ran.out, "mixed.yaml: a is left as it was: corrected it would have a new error: "));
    CHECK(shelf.read("bad.yaml") == puzzles({bad}));
    CHECK(shelf.read("mixed.yaml") == puzzles({entry("b", diagram + " w - - 0 1", "1.Rd8#"), bad,
                                               entry("c", diagram + " w - - 0 1", "1.Rd8#")}));
    CHECK(fix(shelf, {"--rule", "set/*=off", "--preview"}).out.empty());
}

TEST_CASE("fix: preview prints the change, writes nothing and says that there is one") {
    const Shelf shelf;
    const std::string wrong =
        puzzles({entry("a", diagram + " w - - 0 1", "1.Rd8", "source: \"::error::x\"")});
    shelf.write("a.yaml", wrong);
    const auto ran = fix(shelf, {"--preview"});
    CHECK(ran.status == 1);
    CHECK(shelf.read("a.yaml") == wrong);
    CHECK(holds(ran.out, "--- a/a.yaml\n+++ b/a.yaml\n"));
    CHECK(holds(ran.out, "\n-    solution: \"1.Rd8\"\n+    solution: \"1.Rd8#\"\n"));
    CHECK(holds(ran.err, "Would correct 1 finding in 1 file."));
    fix(shelf);
    const auto after = fix(shelf, {"--preview"});
    CHECK(after.status == 0);
    CHECK(after.out.empty());
}

TEST_CASE("fix: the levels and allowances of the rules hold") {
    const Shelf shelf;
    const std::string text = puzzles({entry("a", diagram + " w - - 0 1", "1.Rd8",
                                            "allow: [{rule: line/notation, why: \"the first edition\"}]")});
    shelf.write("a.yaml", text);
    CHECK(holds(fix(shelf).out, "Nothing to correct."));
    shelf.write("a.yaml", puzzles({entry("a", diagram + " w - - 0 1", "1.Rd8")}));
    CHECK(holds(fix(shelf, {"--rule", "line/*=off"}).out, "Nothing to correct."));
    CHECK(fix(shelf, {"--fail-if-changed"}).status == 1);
    CHECK(fix(shelf, {"--fail-if-changed"}).status == 0);
}

TEST_CASE("fix: mode and links stay, a read-only file is told and the others go on") {
    const Shelf shelf;
    const std::string wrong = puzzles({entry("a", diagram + " w - - 0 1", "1.Rd8")});
    shelf.write("a.yaml", wrong);
    shelf.write("b.yaml", wrong);
    fs::create_symlink("a.yaml", shelf.path() / "link.yaml");
    fs::permissions(shelf.path() / "a.yaml", fs::perms(0640));
    fs::permissions(shelf.path() / "b.yaml", fs::perms(0444));
    const auto ran = fix(shelf, {"--rule", "set/*=off"});
    CHECK(ran.status == 3);
    CHECK(holds(ran.err, "b.yaml: cannot be written, and is left as it was: it is read-only"));
    CHECK(shelf.read("b.yaml") == wrong);
    CHECK(holds(shelf.read("a.yaml"), "1.Rd8#"));
    CHECK(fs::status(shelf.path() / "a.yaml").permissions() == fs::perms(0640));
    CHECK(fs::is_symlink(shelf.path() / "link.yaml"));
    CHECK(fix(shelf, {"link.yaml"}).status == 2);
}

TEST_CASE("fix: two runs at once") {
    const Shelf shelf;
    std::string text;
    std::string right;
    for (int i = 0; i < 30; ++i) {
        text += entry("p" + std::to_string(i), diagram + " w - - 0 1", "1.Rd8");
        right += entry("p" + std::to_string(i), diagram + " w - - 0 1", "1.Rd8#");
    }
    shelf.write("a.yaml", puzzles({text}));
    {
        const std::jthread one([&] { CHECK_NOTHROW(fix(shelf)); });
        const std::jthread two([&] { CHECK_NOTHROW(fix(shelf)); });
    }
    CHECK(shelf.read("a.yaml") == puzzles({right}));
}

TEST_CASE("fix: staged files only, and none that differs from what is staged of it") {
    scratch::Repository repository;
    const std::string wrong = puzzles({entry("a", diagram + " w - - 0 1", "1.Rd8")});
    repository.check_in({{"old.yaml", {wrong}}, {"a.yaml", {puzzles({})}}, {"b.yaml", {puzzles({})}}});
    repository.stage({{"old.yaml", {wrong}}, {"a.yaml", {wrong}}, {"b.yaml", {wrong}}});
    repository.write("a.yaml", wrong);
    repository.write("b.yaml", wrong + "# edited since\n");
    const auto ran =
        run_in(repository.root(), {"fix", "--staged", "--rule", "set/*=off", "--effort", "draft"});
    CHECK(ran.status == 3);
    CHECK(holds(ran.out, "a.yaml:5:"));
    CHECK_FALSE(holds(ran.out, "old.yaml"));
    CHECK(holds(ran.err, "b.yaml: is left alone: the file differs from what is staged of it"));
    // The index is the user's: it still holds what was staged.
    const auto state = repository.open().index();
    REQUIRE(state);
    CHECK(**repository.open().bytes_at(*state, "a.yaml") == wrong);
}
