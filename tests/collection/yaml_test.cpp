#include "reading.hpp"

using namespace collection;
using reading::at;
using reading::back_rank;
using reading::moves;
using reading::place;
using reading::Texts;
using reading::values;

namespace {

Document read_yaml(const std::string& bytes) {
    return read("sets/a.yaml", bytes, {});
}

/// A list with one puzzle that has the usual FEN and these further lines.
std::string puzzle(const std::string& lines, const std::string& id = "a") {
    return "  - id: " + id + "\n    fen: \"" + back_rank + "\"\n" + lines;
}

Texts faults(const Document& document) {
    Texts texts;
    for (const Fault& fault : document.faults) {
        texts.push_back(place(document, fault.span) + " " + fault.what);
    }
    return texts;
}

} // namespace

TEST_CASE("our own collection file") {
    const Document document = read_yaml("collection: Harbour club, first term\n"
                                        "defaults: {goal: win, licence: CC-BY-4.0}\n"
                                        "puzzles:\n"
                                        "  - id: harbour-001\n"
                                        "    fen: \"6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1\"\n"
                                        "    to-move: white                 # a remark\n"
                                        "    goal: mate in 1\n"
                                        "    solution: \"1.Rd8#\"\n"
                                        "    accept: []\n"
                                        "    themes: [back-rank mate]\n"
                                        "    allow: [{rule: theme/missing, why: \"taught later\"}]\n"
                                        "  - id: 2\n"
                                        "    fen: 6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1\n"
                                        "    accept: [Rd7, Rd6]\n"
                                        "    themes: fork, pin\n"
                                        "    allow: \"key/cook: yes; line/dual\"\n"
                                        "    licence: none\n"
                                        "    authors: [a, b]\n"
                                        "    goal: ~\n");
    CHECK(faults(document).empty());
    reading::check_spans(document);
    REQUIRE(reading::ids(document) == Texts{"harbour-001", "2"});
    const Puzzle& first = document.puzzles[0];
    CHECK(first.faults.empty());
    CHECK(place(document, first.span) == "4:5");
    CHECK(at(document, first.span).substr(0, 15) == "id: harbour-001");
    CHECK(at(document, first.span).back() == ']');
    CHECK(write_goal(first.goal->value) == "mate in 1");
    CHECK(at(document, first.solution_span) == "1.Rd8#");
    CHECK(values(first.themes) == Texts{"back-rank mate"});
    REQUIRE(first.allowances.size() == 1);
    CHECK(first.allowances[0].why == "taught later");
    CHECK(at(document, first.allowances[0].span) == "{rule: theme/missing, why: \"taught later\"}");
    CHECK(first.field("licence")->value == "CC-BY-4.0");
    CHECK(place(document, first.field("licence")->span) == "2:32");
    CHECK(first.sides.size() == 3);
    const Puzzle& second = document.puzzles[1];
    CHECK(second.faults.empty());
    CHECK(write_goal(second.goal->value) == "win");
    CHECK(values(second.accepted) == Texts{"Rd7", "Rd6"});
    CHECK(values(second.themes) == Texts{"fork", "pin"});
    CHECK(second.allowances.size() == 2);
    CHECK(second.field("licence")->value == "none");
    CHECK(second.fields.size() == 3);
}

TEST_CASE("solutions in every style of scalar point at their moves") {
    const auto spans = [](const std::string& lines, const Texts& texts) {
        INFO(lines);
        for (const bool wide : {false, true}) { // places must count bytes, not characters
            const Document document = read_yaml(std::string("# ") + (wide ? "\xc3\xa9\xe2\x82\xac" : "") +
                                                "\npuzzles:\n" + puzzle(lines));
            CHECK(document.faults.empty());
            REQUIRE(document.puzzles.size() == 1);
            const auto& nodes = document.puzzles[0].solution.nodes;
            REQUIRE(nodes.size() == texts.size() + 1);
            for (std::size_t i = 0; i < texts.size(); ++i) {
                CHECK(at(document, nodes[i + 1].span) == texts[i]);
            }
        }
    };
    const Texts line{"Rd7", "h6", "Rd8+"};
    spans("    solution: 1.Rd7 h6 2.Rd8+\n", line);
    spans("    solution: 1.Rd7\n      h6\n\n      2.Rd8+\n", line);
    spans("    solution: '1.Rd7 {it''s} h6 2.Rd8+'\n", line);
    spans("    solution: \"1.Rd7 {a \\\"b\\\" \\u00e9 \\x41} h6\\n2.Rd8+\"\n", line);
    spans("    solution: \"1.Rd7 \\\n      h6\n      2.Rd8+\"\n", line);
    spans("    solution: |\n      1.Rd7\n        h6 ; two further in\n      2.Rd8+\n", line);
    spans("    solution: >-  # folded\n      1.Rd7\n      h6\n\n      2.Rd8+\n\n", line);
    spans("    solution: \"1.Rd7 {caf\xc3\xa9} h6 2.Rd8+\"\n", line);
    spans("    solution: \"1.\\x52d7 h6 2.Rd8+\"\n", {"\\x52d7", "h6", "Rd8+"});
}

TEST_CASE("what is wrong in one puzzle is said there") {
    const Document document =
        read_yaml("puzzles:\n" +
                  puzzle("    goal: foo\n    to-move: green\n    theme: x\n    To_Move: white\n    id: b\n   "
                         " nested: {a: 1}\n"
                         "    allow: [{rule: a}, {why: b}, {rule: a, because: c}]\n    solution: [a]\n") +
                  "  - id: b\n  - just text\n  - id: c\n    fen:\n");
    REQUIRE(reading::ids(document) == Texts{"a", "b", "c"});
    const auto& list = document.puzzles[0].faults;
    Texts places;
    for (const Fault& fault : list) {
        places.push_back(place(document, fault.span));
    }
    CHECK(places == Texts{"11:15", "4:11", "5:14", "6:5", "7:5", "8:5", "9:13", "10:24", "10:34"});
    CHECK(document.puzzles[0].allowances.size() == 1);
    CHECK(document.puzzles[1].faults.size() == 1); // no FEN
    CHECK(document.puzzles[2].faults.size() == 1);
    CHECK(faults(document) == Texts{"13:5 A puzzle must have keys"});
}

TEST_CASE("what is wrong at the top is said at the file") {
    CHECK(faults(read_yaml("colection: x\npuzzles: []\n")).size() == 1);
    CHECK(faults(read_yaml("puzzles: {a: b}\n")).size() == 1);
    CHECK(faults(read_yaml("puzzles:\n")).empty());
    CHECK(faults(read_yaml("puzzles: []\npuzzles: []\n")).size() == 1);
    CHECK(faults(read_yaml("defaults: [a]\npuzzles: []\n")).size() == 1);
    CHECK(
        faults(read_yaml("defaults: {id: a, goal: foo, Theme: x}\npuzzles:\n" + puzzle("") + puzzle("", "b")))
            .size() == 3);
    CHECK(faults(read_yaml("$schema: x\ncollection: y\npuzzles: []\n")).empty());
    CHECK_FALSE(faults(read_yaml("- a\npuzzles:\n")).empty());
}

TEST_CASE("anchors and aliases are refused, and nothing is expanded") {
    const Document document = read_yaml("puzzles:\n" + puzzle("    title: &x text\n    source: *x\n") +
                                        "  - &y\n    id: b\n    fen: x\n");
    CHECK(faults(document).size() == 3);
    CHECK(reading::ids(document) == Texts{"a", "b"});
    CHECK(document.puzzles[0].field("source") == nullptr);
    std::string bomb = "puzzles:\na: &a0 [x, x]\n";
    for (int i = 1; i < 60; ++i) {
        bomb += "a" + std::to_string(i) + ": &a" + std::to_string(i) + " [*a" + std::to_string(i - 1) +
                ", *a" + std::to_string(i - 1) + "]\n";
    }
    CHECK_FALSE(read_yaml(bomb).faults.empty());
}

TEST_CASE("a puzzle that is no YAML does not stop the next one") {
    for (const std::string& broken : {std::string("    source: \"open\n"), std::string("    source: 'open\n"),
                                      std::string("    source: [a, b\n"), std::string("    source: a: b\n"),
                                      std::string("   source: a\n"), std::string("    source: {a\n"),
                                      std::string("    source: \"\\q\"\n"), std::string("    \tsource: a\n"),
                                      std::string("    - a\n"), std::string("    source: @a\n"),
                                      std::string("    source: %a\n"), std::string("    source: !<a\n")}) {
        INFO(broken);
        const std::string text = "puzzles:\n" + puzzle("    title: x\n") + puzzle(broken, "b") +
                                 puzzle("    solution: \"1.Rd8#\"\n", "c") + puzzle(broken, "d") +
                                 puzzle("", "e") + "defaults: {goal: win}\n";
        const Document document = read_yaml(text);
        const Texts found = reading::ids(document);
        CHECK(std::count(found.begin(), found.end(), "a") == 1);
        CHECK(std::count(found.begin(), found.end(), "c") == 1);
        CHECK(std::count(found.begin(), found.end(), "e") == 1);
        CHECK(document.faults.size() == 2);
        for (const Fault& fault : document.faults) {
            const std::size_t line = document.place(fault.span.begin).line;
            INFO(fault.what << " " << line);
            CHECK((line == 7 || line == 13));
        }
        CHECK(document.puzzles.back().goal);
    }
}

TEST_CASE("lists at the left edge, flow style, several documents") {
    CHECK(reading::ids(read_yaml(
              "puzzles:\n- id: a\n  fen: x\n- id: b\n  fen: \"\n- id: c\n  fen: z\ncollection: x\n")) ==
          Texts{"a", "c"});
    CHECK(reading::ids(read_yaml("{puzzles: [{id: a, fen: x}, {id: b, fen: y}]}")) == Texts{"a", "b"});
    CHECK(reading::ids(
              read_yaml("puzzles:\n  - id: a\n    fen: x\n---\npuzzles:\n  - id: b\n    fen: y\n...\n")) ==
          Texts{"a", "b"});
    CHECK(reading::ids(read_yaml("\"puzzles\":\n  -\n    id: a\n    fen: x\n  - fen: y\n")) ==
          Texts{"a", "a.yaml#2"});
}

TEST_CASE("line ends and a byte order mark change no place") {
    const std::string text =
        "defaults: {goal: bad}\npuzzles:\n" +
        puzzle("    solution: |\n      1.Rd7\n      h6 (1...h5)\n      2.Rd8+\n    theme: x\n") +
        puzzle("    a: \"open\n", "b") + puzzle("    to-move: red\n", "c");
    const auto told = [](const std::string& bytes) {
        const Document document = read_yaml(bytes);
        Texts lines = faults(document);
        for (const Puzzle& entry : document.puzzles) {
            lines.push_back(place(document, entry.span) + place(document, entry.fen.span));
            for (const Fault& fault : entry.faults) {
                lines.push_back(place(document, fault.span) + fault.what);
            }
            for (const TreeNode& node : entry.solution.nodes) {
                lines.push_back(place(document, node.span) + node.text);
            }
        }
        return lines;
    };
    const Texts wanted = told(text);
    CHECK(wanted.size() > 10);
    for (const std::string end : {"\r\n", "\r"}) {
        std::string other = "\xef\xbb\xbf";
        for (const char c : text) {
            other += c == '\n' ? end : std::string(1, c);
        }
        CHECK(told(other) == wanted);
    }
}

TEST_CASE("Latin-1 in YAML is read with its places, control characters are a fault") {
    const Document latin =
        read_yaml("puzzles:\n" +
                  puzzle("    source: M\xfcller \x96 J\xf6rg\n    solution: \"{\xe9} 1.Rd8# {\\\"}\"\n") +
                  puzzle("", "b\xe9"));
    CHECK(latin.faults.empty());
    CHECK(latin.puzzles.at(0).field("source")->value == "M\xc3\xbcller \xef\xbf\xbd J\xc3\xb6rg");
    CHECK(at(latin, latin.puzzles[0].field("source")->span) == "M\xfcller \x96 J\xf6rg");
    CHECK(at(latin, latin.puzzles[0].solution.nodes.at(1).span) == "Rd8#");
    CHECK(latin.puzzles.at(1).id.value == "b\xc3\xa9");
    const Document control = read_yaml("puzzles:\n" + puzzle("    source: a\x01z\x02\n"));
    CHECK(control.puzzles.at(0).field("source")->value == "a z");
    REQUIRE(control.faults.size() == 1);
    CHECK(control.faults[0].kind == Fault::Kind::encoding);
    const Document zero = read_yaml("puzzles:\n" + puzzle("    source: a" + std::string(1, '\0') + "\n"));
    CHECK(zero.puzzles.size() == 1);
    CHECK(zero.faults.size() == 1);
}
