#include "collection/text.hpp"
#include "reading.hpp"

#include <cstdint>

using namespace collection;
using reading::back_rank;

namespace {

std::string repeated(std::string_view unit, std::size_t bytes) {
    std::string text;
    text.reserve(bytes + unit.size());
    while (text.size() < bytes) {
        text += unit;
    }
    return text;
}

const std::string head = "[FEN \"" + back_rank + "\"]\n\n";

ReadOptions options() {
    TableMapping table;
    table.files = "*.csv";
    table.id = "id";
    table.fen = "fen";
    table.solution = "moves";
    table.themes = "themes";
    return {{table}, {{"*", "White", "Black", "", "", "Key:"}}};
}

std::size_t limit_faults(const Document& document) {
    std::size_t count = 0;
    const auto add = [&count](const std::vector<Fault>& faults) {
        for (const Fault& fault : faults) {
            count += fault.kind == Fault::Kind::limit ? 1 : 0;
        }
    };
    add(document.faults);
    for (const Puzzle& puzzle : document.puzzles) {
        add(puzzle.faults);
    }
    return count;
}

/// What holds of every document, whatever its bytes.
void check_sane(const Document& document) {
    const auto inside = [&document](Span span) {
        REQUIRE((span.begin <= span.end && span.end <= document.bytes.size()));
    };
    const auto sound = [&inside](const std::vector<Fault>& faults) {
        REQUIRE(faults.size() <= 102);
        for (const Fault& fault : faults) {
            inside(fault.span);
            REQUIRE(is_utf8(fault.what));
        }
    };
    sound(document.faults);
    for (const Puzzle& puzzle : document.puzzles) {
        sound(puzzle.faults);
        inside(puzzle.span);
        inside(puzzle.fen.span);
        inside(puzzle.solution_span);
        REQUIRE(is_utf8(puzzle.id.value));
        for (std::size_t i = 1; i < puzzle.solution.nodes.size(); ++i) {
            const TreeNode& node = puzzle.solution.nodes[i];
            inside(node.span);
            REQUIRE(is_utf8(node.text));
            REQUIRE(node.parent < i);
            if (node.status == MoveStatus::legal) {
                REQUIRE(puzzle.solution.position_at(*puzzle.position, node.parent).is_legal(node.move));
            }
        }
        for (const Field& field : puzzle.fields) {
            inside(field.span);
            REQUIRE(is_utf8(field.value));
        }
        for (const auto& theme : puzzle.themes) {
            inside(theme.span);
        }
    }
}

} // namespace

TEST_CASE("deep nesting is cut off, not followed") {
    const Document deep = read("a.pgn", head + repeated("1. Rd7 (", 900'000), {});
    CHECK(limit_faults(deep) == 1);
    CHECK(deep.puzzles.at(0).solution.nodes.size() == max_variation_depth + 2);
    check_sane(deep);
    check_sane(read("a.pgn", head + repeated("(", 900'000), {}));
    check_sane(read("a.pgn", head + repeated(")", 900'000), {}));
    for (const std::string_view unit : {"[", "{a: ", "- ", "? ", "[a, "}) {
        const Document document = read("a.yaml", "puzzles:\n  - " + repeated(unit, 900'000), {});
        INFO(unit);
        CHECK_FALSE(document.faults.empty());
        check_sane(document);
    }
}

TEST_CASE("a solution of a million moves and comments is cut off") {
    const Document moves = read("a.pgn", head + repeated("Rd7 h6 Rd6 h5 (Rd7) \n", 2'000'000), {});
    CHECK(limit_faults(moves) == 1);
    CHECK(moves.puzzles.at(0).solution.nodes.size() == max_tree_nodes + 1);
    const Document comments = read("a.pgn", head + repeated("{a}\n", 2'000'000), {});
    CHECK(limit_faults(comments) == 1);
    CHECK(read("a.pgn", head + repeated("]\n", 2'000'000), {}).puzzles.at(0).faults.size() == 101);
}

TEST_CASE("a line that is too long is left out in every format, and the rest is read") {
    const std::string line = repeated("x ", max_line_bytes + 10);
    const Document pgn = read("a.pgn", head + "1. Rd8# *\n\n" + line + "\n" + head + "1. Rd8# *\n", {});
    CHECK(limit_faults(pgn) == 1);
    CHECK(pgn.puzzles.size() == 2);
    const Document epd = read("a.epd", back_rank + "\n" + line + "\n" + back_rank + "\n", {});
    CHECK(limit_faults(epd) == 1);
    CHECK(epd.puzzles.size() == 2);
    const Document table =
        read("a.csv", "id,fen,moves,themes\na," + back_rank + ",,\n" + line + "\nb," + back_rank + ",,\n",
             options());
    CHECK(limit_faults(table) == 1);
    CHECK(reading::ids(table) == reading::Texts{"a", "b"});
    const Document yaml = read("a.yaml", "puzzles:\n  - id: a\n    x: " + line + "\n", {});
    CHECK(limit_faults(yaml) == 1);
    CHECK(yaml.puzzles.empty());
}

TEST_CASE("lists without end are cut off") {
    const Document themes = read("a.pgn", "[Themes \"" + repeated("a,", 500'000) + "\"]\n" + head + "*", {});
    CHECK(limit_faults(themes) == 1);
    const Document tags = read("a.pgn", repeated("[a \"b\"]\n", 100'000) + head + "*", {});
    check_sane(tags);
    std::string keys = "puzzles:\n  - id: a\n    fen: x\n";
    for (int i = 0; i < 300; ++i) {
        keys += "    k" + std::to_string(i) + ": v\n";
    }
    CHECK(limit_faults(read("a.yaml", keys, {})) == 1);
}

TEST_CASE("a file of a hundred megabytes on one line is refused at once") {
    const std::string line = repeated("1. Rd8# ", 100'000'000);
    for (const std::string path : {"a.pgn", "a.epd", "a.csv"}) {
        CHECK(limit_faults(read(path, line, options())) == 1);
    }
    CHECK(limit_faults(read("a.yaml", "puzzles:\n" + line, {})) == 1);
}

TEST_CASE("changed bytes never break a reader") {
    const std::vector<std::pair<std::string, std::string>> seeds{
        {"a.pgn",
         "[Event \"White to move \\\"x\\\"\"]\n[White \"1\"]\n[Black \"Key: Rd8#\"]\n[Themes \"a,b\"]\n" +
             head + "{a} 1. Rd7! $1 (1. Rd6 h6 (1... h5) {b}) 1... h6 ; c\n2. Rd8+ 1-0\n\n% e\n" + head +
             "1. e8=Q *\n"},
        {"a.epd", back_rank + " bm Rd8# Rd7; id \"a\"; pv Rd8#; dm 1; c0 \"x;y\";\n# c\n6k1/8/8/8/8/8/8/K7 b "
                              "- - ; bm Kg7 + ; id b\n"},
        {"a.csv",
         "id,fen,moves,themes\na," + back_rank + ",\"1. Rd7\nh6 \"\"\",\"a,b\"\nb," + back_rank + ",Rd8#,\n"},
        {"a.yaml", "collection: x\ndefaults: {goal: win}\npuzzles:\n  - id: a\n    fen: \"" + back_rank +
                       "\"\n    solution: |\n      1.Rd7 h6\n      2.Rd8+\n    themes: [a, 'b''c']\n    "
                       "allow: [{rule: a, why: \"b\\n\"}]\n  - id: b\n    fen: >-\n      x\n"},
    };
    std::uint64_t state = 1; // a fixed sequence (xorshift), so that a failure can be met again
    const auto next = [&state](std::size_t below) {
        state ^= state << 13U;
        state ^= state >> 7U;
        state ^= state << 17U;
        return static_cast<std::size_t>(state % below);
    };
    constexpr char signs[] = "\"'[]{}(),;:%#&*!|>-?@`\\\n\r\t \0\x1a\x80\xff\xef\xbb\xbf$.0129abKQ+=/";
    const std::string bytes(signs, sizeof signs - 1); // with the NUL in it
    for (const auto& [path, seed] : seeds) {
        for (int round = 0; round < 1500; ++round) {
            std::string text = seed;
            for (std::size_t edits = 1 + next(4); edits > 0 && !text.empty(); --edits) {
                const std::size_t place = next(text.size());
                switch (next(4)) {
                case 0:
                    text.erase(place, 1 + next(8));
                    break;
                case 1: {
                    const std::size_t count = 1 + next(3);
                    text.insert(place, count, bytes[next(bytes.size())]);
                    break;
                }
                case 2:
                    text[place] = bytes[next(bytes.size())];
                    break;
                default: {
                    const std::string piece = text.substr(place, next(40));
                    text.insert(next(text.size()), piece);
                    break;
                }
                }
            }
            INFO(text);
            check_sane(read(path, text, options()));
        }
    }
}
