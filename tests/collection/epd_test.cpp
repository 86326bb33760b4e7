#include "reading.hpp"

using namespace collection;
using reading::at;
using reading::moves;
using reading::place;
using reading::Texts;
using reading::values;

namespace {

Document read_epd(const std::string& bytes) {
    return read("sets/a.epd", bytes, {});
}

} // namespace

// Positions 1, 5 and 2 of the Bratko-Kopec experiment (Advances in Computer Chess 3, 1982), as released in
// EPD with the first PGN standard; the operations are those of the standard's section 16.2.5.
TEST_CASE("EPD lines: best moves, several of them, id") {
    const Document document =
        read_epd("1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - bm Qd1+; id \"BK.01\";\n"
                 "r1b2rk1/2q1b1pp/p2ppn2/1p6/3QP3/1BN1B3/PPP3PP/R4RK1 w - - bm Nd5 a4; id \"BK.05\";\n");
    reading::check_spans(document);
    REQUIRE(reading::ids(document) == Texts{"BK.01", "BK.05"});
    const Puzzle& first = document.puzzles[0];
    CHECK(first.fen.value == "1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - -");
    CHECK(first.key_only);
    CHECK(moves(first.solution) == Texts{"Qd1+"});
    CHECK(first.solution.nodes[1].status == MoveStatus::legal);
    CHECK(at(document, first.solution_span) == "Qd1+");
    CHECK(first.accepted.empty());
    CHECK(moves(document.puzzles[1].solution) == Texts{"Nd5"});
    CHECK(values(document.puzzles[1].accepted) == Texts{"a4"});
    CHECK(document.puzzles[1].faults.empty());
    CHECK(place(document, document.puzzles[1].span) == "2:1");
}

TEST_CASE(
    "EPD as people write it: semicolon before the first operation, bare ids, a blank before the check sign") {
    const Document document =
        read_epd("1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - ; bm Qd1 + ; id BK.01\r\n"
                 "3r1k2/4npp1/1ppr3p/p6P/P2PPPP1/1NR5/5K2/2R5 w - - 0 1 bm d5; id X.02 c0 a remark\r\n"
                 "\r\n# a comment\r\n"
                 "3r1k2/4npp1/1ppr3p/p6P/P2PPPP1/1NR5/5K2/2R5 w - - bm d4d5\x1a");
    REQUIRE(reading::ids(document) == Texts{"BK.01", "X.02", "a.epd#3"});
    CHECK(moves(document.puzzles[0].solution) == Texts{"Qd1+"});
    CHECK(at(document, document.puzzles[0].solution.nodes[1].span) == "Qd1 +");
    CHECK(document.puzzles[1].fen.value == "3r1k2/4npp1/1ppr3p/p6P/P2PPPP1/1NR5/5K2/2R5 w - - 0 1");
    CHECK(document.puzzles[1].field("c0")->value == "a remark");
    CHECK(document.puzzles[2].solution.nodes.at(1).status == MoveStatus::legal);
    for (const Puzzle& puzzle : document.puzzles) {
        CHECK(puzzle.faults.empty());
        CHECK(puzzle.reading.faults.empty());
    }
}

TEST_CASE("EPD operations that make claims") {
    const Document document =
        read_epd(reading::back_rank +
                 " bm Rd8#; dm 1; am Rd7 Rd6; pv Rd8#; ce 32766; c0 \"White to move; mate\"; acd 4;\n"
                 "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - dm -15; pv Rd7 h6 Rd8+;\n"
                 "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - bm Rd8#; pv Rd7 h6;\n"
                 "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - bm Rd7 Rd8#; pv Rd8#;\n"
                 "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - bm Rd8#; id \"open\n");
    reading::check_spans(document);
    REQUIRE(document.puzzles.size() == 5);
    const Puzzle& mate = document.puzzles[0];
    CHECK(mate.goal->value == Goal{GoalKind::mate, 1, GoalUnit::pawn});
    CHECK(at(document, mate.goal->span) == "1");
    CHECK(values(mate.avoided) == Texts{"Rd7", "Rd6"});
    CHECK_FALSE(mate.key_only);
    CHECK(mate.field("c0")->value == "White to move; mate");
    CHECK(mate.sides.size() == 2);
    CHECK(mate.field("ce")->value == "32766");
    CHECK(mate.faults.empty());
    const Puzzle& line = document.puzzles[1];
    CHECK_FALSE(line.goal);
    CHECK(line.field("dm")->value == "-15");
    CHECK(moves(line.solution) == Texts{"Rd7", "h6", "Rd8+"});
    const Puzzle& torn = document.puzzles[2]; // the line is not the best move's
    CHECK(torn.key_only);
    CHECK(moves(torn.solution) == Texts{"Rd8#"});
    CHECK(torn.field("pv")->value == "Rd7 h6");
    CHECK(torn.faults.size() == 1);
    CHECK(values(document.puzzles[3].accepted) == Texts{"Rd7"});
    CHECK(document.puzzles[3].faults.empty());
    CHECK(document.puzzles[4].id.value == "open");
    CHECK(document.puzzles[4].faults.size() == 1);
}

TEST_CASE("lines that are no positions are puzzles that cannot be read, one each") {
    const Document document = read_epd("hello have a nice day\nx\n8/8/8/8 w\n");
    REQUIRE(document.puzzles.size() == 3);
    for (const Puzzle& puzzle : document.puzzles) {
        CHECK_FALSE(puzzle.position);
        CHECK_FALSE(puzzle.reading.faults.empty());
    }
}

TEST_CASE("a listed move in coordinates is handed on in SAN") {
    const Document document = read_epd("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - bm Rd8#; am d1d7 Rd6! Xx;\n");
    CHECK(values(document.puzzles.at(0).avoided) == Texts{"Rd7", "Rd6", "Xx"});
}
