#include "reading.hpp"

using namespace collection;
using reading::at;
using reading::moves;
using reading::place;
using reading::Texts;
using reading::values;

namespace {

TableMapping mapping() {
    TableMapping columns;
    columns.files = "*";
    columns.id = "id";
    columns.fen = "fen";
    columns.solution = "moves";
    columns.goal = "goal";
    columns.themes = "themes";
    return columns;
}

Document read_table(const std::string& path, const std::string& bytes,
                    const TableMapping& columns = mapping()) {
    return read(path, bytes, {{columns}, {}});
}

} // namespace

TEST_CASE("a comma-separated table with quotes, doubled quotes and line breaks (RFC 4180)") {
    const Document document =
        read_table("sets/a.csv", "id,fen,moves,goal,themes,note\r\n"
                                 "a,6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1,\"1. Rd7 h6\r\n2. "
                                 "Rd8+\",win,\"pin, fork\",\"the \"\"harbour\"\" one\"\r\n"
                                 "\r\n"
                                 "b,6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1,1. Rd8#,mate in 1\r\n");
    CHECK(document.faults.empty());
    REQUIRE(reading::ids(document) == Texts{"a", "b"});
    const Puzzle& puzzle = document.puzzles[0];
    CHECK(moves(puzzle.solution) == Texts{"Rd7", "h6", "Rd8+"});
    CHECK(place(document, puzzle.solution.nodes[3].span) == "3:4");
    CHECK(at(document, puzzle.solution.nodes[3].span) == "Rd8+");
    CHECK(values(puzzle.themes) == Texts{"pin", "fork"});
    CHECK(puzzle.field("note")->value == "the \"harbour\" one");
    CHECK(at(document, puzzle.field("note")->span) == "the \"\"harbour\"\" one");
    CHECK(puzzle.faults.empty());
    CHECK(document.puzzles[1].goal->value.moves == 1);
    CHECK(place(document, document.puzzles[1].span) == "5:1");
}

TEST_CASE("other separators, by extension and by header; a byte order mark") {
    for (const auto& [path, separator] : std::vector<std::pair<std::string, std::string>>{
             {"a.tsv", "\t"}, {"a.csv", "\t"}, {"a.csv", ";"}, {"a.txt", ","}}) {
        std::string text = "\xef\xbb\xbfID|fen|moves|goal|themes\nx|" + reading::back_rank + "|Rd8#|win|a\n";
        for (std::size_t i = text.find('|'); i != std::string::npos; i = text.find('|')) {
            text.replace(i, 1, separator);
        }
        const Document document = read_table(path, text);
        INFO(path + separator);
        CHECK(document.faults.empty());
        REQUIRE(reading::ids(document) == Texts{"x"});
        CHECK(moves(document.puzzles[0].solution) == Texts{"Rd8#"});
        reading::check_spans(document);
    }
}

TEST_CASE("coordinates with a lead-in: the diagram is behind the opponent's move") {
    TableMapping columns = mapping();
    columns.moves = TableMapping::Moves::coordinate;
    columns.first_move = TableMapping::FirstMove::opponent;
    const Document document = read_table("a.csv",
                                         "id,fen,moves,goal,themes\n"
                                         "a,6k1/4rppp/8/8/8/8/5PPP/3R2K1 b - - 0 1,e7a7 d1d8,mate in 1,\n"
                                         "b,6k1/4rppp/8/8/8/8/5PPP/3R2K1 b - - 0 1,e7e9 d1d8,,\n",
                                         columns);
    reading::check_spans(document);
    REQUIRE(document.puzzles.size() == 2);
    const Puzzle& puzzle = document.puzzles[0];
    CHECK(puzzle.lead_in->value == "e7a7");
    CHECK(at(document, puzzle.lead_in->span) == "e7a7");
    CHECK(moves(puzzle.solution) == Texts{"d1d8"});
    CHECK(puzzle.solution.nodes[1].status == MoveStatus::legal);
    CHECK(puzzle.position->turn() == board::Color::white);
    REQUIRE(puzzle.sides.size() == 1);
    CHECK(puzzle.sides[0].color == board::Color::white); // of the diagram, not of the FEN before it
    CHECK(puzzle.faults.empty());
    CHECK_FALSE(document.puzzles[1].position);
    CHECK(document.puzzles[1].faults.size() == 1);
}

// E. g. "Sd2" for a knight: problem convention. Position: S. Loyd, Chicago Times, 1879, key Kf3 (mate in 2).
TEST_CASE("tables of composed problems name keys") {
    TableMapping columns;
    columns.files = "*.csv";
    columns.fen = "fen";
    columns.solution = "key";
    columns.goal = "stipulation";
    columns.key_only = true;
    const Document document = read_table(
        "a.csv",
        "composer,fen,stipulation,key\n\"Loyd, Sam\",8/4p3/N1P1pR2/4k3/8/4K3/5QR1/8 w - - 0 1,#2,Kf3\n"
        "x,8/4p3/N1P1pR2/4k3/8/4K3/5QR1/8 w - - 0 1,h#2,Kf3 Sc7\ny,8/4p3/N1P1pR2/4k3/8/4K3/5QR1/8 w - - 0 "
        "1,,\n",
        columns);
    REQUIRE(document.puzzles.size() == 3);
    const Puzzle& puzzle = document.puzzles[0];
    CHECK(puzzle.key_only);
    CHECK(moves(puzzle.solution) == Texts{"Kf3"});
    CHECK(puzzle.goal->value.moves == 2);
    CHECK(puzzle.field("composer")->value == "Loyd, Sam");
    CHECK(document.puzzles[1].goal->value.kind == GoalKind::not_checked);
    CHECK(values(document.puzzles[1].accepted) == Texts{"Sc7"});
    CHECK(document.puzzles[2].solution.empty());
    CHECK_FALSE(document.puzzles[2].goal);
    CHECK(document.puzzles[2].faults.empty());
}

TEST_CASE("quotes that do not pair spoil their own row only") {
    const std::string good = "z," + reading::back_rank + ",Rd8#,win,\n";
    for (const std::string& row :
         std::vector<std::string>{"a," + reading::back_rank + ",\"Rd8#,win,x\n",
                                  "a," + reading::back_rank + ",\"Rd8# \"x,win,\n"}) {
        const Document document = read_table("a.csv", "id,fen,moves,goal,themes\n" + row + good + good);
        INFO(row);
        REQUIRE(reading::ids(document) == Texts{"a", "z", "z"});
        REQUIRE_FALSE(document.puzzles[0].faults.empty());
        CHECK(place(document, document.puzzles[0].faults[0].span) == "2:41");
        CHECK(document.puzzles[1].faults.empty());
    }
}

TEST_CASE("columns that are missing, rows that are too long or too short") {
    const Document other = read_table("a.csv", "id,position\nx,y\n");
    CHECK(other.puzzles.empty());
    CHECK(other.faults.size() == 4);
    const Document document =
        read_table("a.csv", "id,fen,moves,goal,themes\nx," + reading::back_rank + ",Rd8#,win,a,b\ny\n");
    REQUIRE(document.puzzles.size() == 2);
    CHECK(document.puzzles[0].faults.size() == 1);
    CHECK(document.puzzles[1].faults.size() == 1);
    CHECK(read_table("a.csv", "").faults.empty());
}

TEST_CASE("the last mapping that fits counts, and formats are told by name and content") {
    TableMapping first = mapping();
    TableMapping last = mapping();
    first.files = "*.csv";
    last.files = "sets/*.csv";
    last.id = "number";
    const Document document =
        read("sets/a.csv", "number,id,fen,moves,goal,themes\n1,x," + reading::back_rank + ",Rd8#,,\n",
             {{first, last}, {}});
    CHECK(reading::ids(document) == Texts{"1"});
    CHECK(format_of("a.csv", "", {}) == Format::none);
    CHECK(format_of("a.csv", "", {{first}, {}}) == Format::table);
    CHECK(format_of("x/A.PGN", "", {{mapping()}, {}}) == Format::pgn);
    CHECK(format_of("a.Epd", "", {}) == Format::epd);
    CHECK(format_of("a.fen", "", {}) == Format::epd);
    CHECK(format_of("pgn", "", {}) == Format::none);
    CHECK(format_of("a.yaml", "a: b\npuzzles:\n", {}) == Format::yaml);
    CHECK(format_of("a.yml", "\xef\xbb\xbf\"puzzles\" : []", {}) == Format::yaml);
    CHECK(format_of("a.yaml", "{puzzles: []}", {}) == Format::yaml);
    CHECK(format_of("a.yaml", "a:\n  puzzles: []\nmypuzzles: x\n# puzzles:\n", {}) == Format::none);
    CHECK(read("a.txt", "text", {}).format == Format::none);
}
