// A replaced text must be what the reader finds, whatever quotes stand around it, and no other byte may
// change.
#include "collection/edit.hpp"
#include "reading.hpp"

#include <array>

using collection::Document;
using collection::Edit;
using collection::read;

namespace {

collection::ReadOptions with_table() {
    collection::TableMapping mapping;
    mapping.files = "*.csv";
    mapping.id = "id";
    mapping.fen = "fen";
    mapping.solution = "moves";
    mapping.themes = "motifs";
    return {{mapping}, {}};
}

/// Replaces the first theme of the first puzzle; the bytes after it, or nothing.
std::optional<std::string> with_theme(const std::string& path, const std::string& bytes,
                                      const std::string& theme) {
    const Document before = read(path, bytes, with_table());
    REQUIRE(before.puzzles.size() == 1);
    REQUIRE_FALSE(before.puzzles[0].themes.empty());
    const auto& stated = before.puzzles[0].themes[0];
    const auto edit = collection::replacing(before, before.puzzles[0], stated.span, stated.value, theme);
    if (!edit) {
        return std::nullopt;
    }
    std::string after = collection::edited(bytes, std::array{*edit});
    const Document again = read(path, after, with_table());
    REQUIRE(again.puzzles.size() == 1);
    REQUIRE_FALSE(again.puzzles[0].themes.empty());
    CHECK(again.puzzles[0].themes[0].value == theme);
    CHECK(again.puzzles[0].faults.size() == before.puzzles[0].faults.size());
    return after;
}

std::string yaml(const std::string& themes) {
    return "puzzles:\n  - id: a\n    fen: \"" + reading::back_rank +
           "\"\n    solution: 1.Rd8#\n    themes: " + themes + "\n    source: x\n";
}

std::string pgn(const std::string& themes) {
    return "[FEN \"" + reading::back_rank + "\"]\n[Themes \"" + themes + "\"]\n\n1. Rd8# *\n";
}

} // namespace

TEST_CASE("edit: YAML scalars keep their form") {
    CHECK(with_theme("a.yaml", yaml("[frk, pin]"), "fork") == yaml("[fork, pin]"));
    CHECK(with_theme("a.yaml", yaml("[\"frk\", pin]"), "a \"fork\" \\ b") ==
          yaml("[\"a \\\"fork\\\" \\\\ b\", pin]"));
    CHECK(with_theme("a.yaml", yaml("['frk']"), "coach's fork") == yaml("['coach''s fork']"));
    CHECK(with_theme("a.yaml", yaml("frk"), "fork") == yaml("fork"));
    CHECK(with_theme("a.yaml", yaml("|\n      frk"), "fork") == yaml("|\n      fork"));
    CHECK(with_theme("a.yaml", yaml("\n      - frk"), "fork") == yaml("\n      - fork"));
}

TEST_CASE("edit: YAML text that would mean something else is put into quotes") {
    CHECK(with_theme("a.yaml", yaml("[frk, pin]"), "#1 fork") == yaml("[\"#1 fork\", pin]"));
    CHECK(with_theme("a.yaml", yaml("[frk]"), "fork: royal") == yaml("[\"fork: royal\"]"));
    CHECK(with_theme("a.yaml", yaml("[frk]"), "[fork]") == yaml("[\"[fork]\"]"));
}

TEST_CASE("edit: a flow mapping and a mapping that begins on its own line") {
    const std::string flow = "puzzles: [{id: a, fen: " + reading::back_rank + ", themes: [frk]}]\n";
    CHECK(with_theme("a.yaml", flow, "fork") ==
          "puzzles: [{id: a, fen: " + reading::back_rank + ", themes: [fork]}]\n");
    const std::string below =
        "puzzles:\n  -\n    id: a\n    fen: " + reading::back_rank + "\n    themes: frk\n";
    CHECK(with_theme("a.yaml", below, "fork") ==
          "puzzles:\n  -\n    id: a\n    fen: " + reading::back_rank + "\n    themes: fork\n");
}

TEST_CASE("edit: what a file gives to all its puzzles is not touched") {
    const std::string text =
        "defaults: {themes: [frk]}\npuzzles:\n  - id: a\n    fen: " + reading::back_rank +
        "\n    solution: 1.Rd8#\n";
    CHECK_FALSE(with_theme("a.yaml", text, "fork"));
}

TEST_CASE("edit: PGN tags are escaped, movetext is not") {
    CHECK(with_theme("a.pgn", pgn("frk, pin"), "fork") == pgn("fork, pin"));
    CHECK(with_theme("a.pgn", pgn("frk"), "a \"fork\" \\") == pgn("a \\\"fork\\\" \\\\"));
    CHECK(with_theme("a.pgn", pgn("a \\\"frk\\\""), "fork") == pgn("fork"));
    const Document document = read("a.pgn", pgn("fork"), {});
    const auto& move = document.puzzles[0].solution.nodes[1];
    CHECK(collection::replacing(document, document.puzzles[0], move.span, "Rd8#", "Rd7") ==
          Edit{move.span, "Rd7"});
    CHECK_FALSE(collection::replacing(document, document.puzzles[0], move.span, "Rd8#", "{}"));
    CHECK_FALSE(collection::replacing(document, document.puzzles[0], move.span, "Rd8", "Rd7#"));
}

TEST_CASE("edit: table cells get quotes when they need them") {
    const std::string head = "id,fen,moves,motifs\n";
    const std::string row = "a," + reading::back_rank + ",1.Rd8#,";
    CHECK(with_theme("a.csv", head + row + "frk\n", "fork") == head + row + "fork\n");
    CHECK(with_theme("a.csv", head + row + "\"frk,pin\"\n", "a \"fork\"") ==
          head + row + "\"a \"\"fork\"\",pin\"\n");
    CHECK(with_theme("a.csv", head + row + "frk\r\n", "a \"fork\"") == head + row + "\"a \"\"fork\"\"\"\r\n");
    const std::string quoted = "\"a\",\"" + reading::back_rank + "\",1.Rd8#,\"frk\"\n";
    CHECK(with_theme("a.csv", head + quoted, "fork") ==
          head + "\"a\",\"" + reading::back_rank + "\",1.Rd8#,\"fork\"\n");
}

TEST_CASE("edit: EPD strings cannot hold quotes") {
    const std::string line = reading::back_rank + " bm Rd8#; id \"a\";\n";
    const Document document = read("a.epd", line, {});
    const auto& id = document.puzzles[0].id;
    CHECK(collection::replacing(document, document.puzzles[0], id.span, "a", "b") == Edit{id.span, "b"});
    CHECK_FALSE(collection::replacing(document, document.puzzles[0], id.span, "a", "b\""));
    CHECK_FALSE(collection::replacing(document, document.puzzles[0], id.span, "a", "b;"));
}

TEST_CASE("edit: no line ends, no control characters, and UTF-8 only into UTF-8") {
    CHECK_FALSE(with_theme("a.yaml", yaml("frk"), "fork\n"));
    CHECK_FALSE(with_theme("a.yaml", yaml("frk"), "fork\x1b"));
    CHECK(with_theme("a.yaml", yaml("frk"), "Spie\xc3\x9f"));
    CHECK_FALSE(with_theme("a.pgn", pgn("frk, M\xe4rz"), "Spie\xc3\x9f"));
    CHECK(with_theme("a.pgn", pgn("frk, M\xe4rz"), "fork") == pgn("fork, M\xe4rz"));
}
