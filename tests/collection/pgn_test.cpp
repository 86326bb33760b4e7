#include "reading.hpp"

using namespace collection;
using reading::at;
using reading::back_rank;
using reading::moves;
using reading::place;
using reading::Texts;
using reading::values;

namespace {

Document read_pgn(const std::string& bytes, const ReadOptions& options = {}) {
    Document document = read("sets/a.pgn", bytes, options);
    reading::check_spans(document);
    return document;
}

std::string game(const std::string& movetext, const std::string& tags = {}) {
    return tags + "[FEN \"" + back_rank + "\"]\n\n" + movetext + "\n\n";
}

} // namespace

TEST_CASE("a PGN puzzle with all its tags") {
    const Document document = read_pgn("[Event \"Class 3: White to move and mate\"]\n"
                                       "[PuzzleId \"harbour-001\"]\n"
                                       "[Goal \"mate in 1\"]\n"
                                       "[Themes \"back-rank mate, rook\"]\n"
                                       "[Accept \"Rd7 Rd6\"]\n"
                                       "[Allow \"theme/missing: taught later; key/cook\"]\n"
                                       "[SetUp \"1\"]\n"
                                       "[FEN \"" +
                                       back_rank +
                                       "\"]\n"
                                       "\n"
                                       "{Look at the king} 1. Rd8# {mate} 1-0\n");
    REQUIRE(document.puzzles.size() == 1);
    CHECK(document.faults.empty());
    const Puzzle& puzzle = document.puzzles[0];
    CHECK(puzzle.id.value == "harbour-001");
    CHECK(puzzle.id_stated);
    CHECK(puzzle.goal->value.kind == GoalKind::mate);
    CHECK(at(document, puzzle.goal->span) == "mate in 1");
    CHECK(values(puzzle.themes) == Texts{"back-rank mate", "rook"});
    CHECK(values(puzzle.accepted) == Texts{"Rd7", "Rd6"});
    REQUIRE(puzzle.allowances.size() == 2);
    CHECK(puzzle.allowances[0].rule == "theme/missing");
    CHECK(puzzle.allowances[0].why == "taught later");
    CHECK(puzzle.allowances[1].why.empty());
    CHECK(at(document, puzzle.allowances[1].span) == "key/cook");
    CHECK(puzzle.position);
    CHECK(moves(puzzle.solution) == Texts{"Rd8#"});
    CHECK(puzzle.solution.nodes[1].comments.at(0).text == "mate");
    CHECK(at(document, puzzle.solution.result->span) == "1-0");
    CHECK(at(document, puzzle.solution_span) == "{Look at the king} 1. Rd8# {mate} 1-0");
    CHECK(puzzle.field("setup")->value == "1");
    CHECK(puzzle.faults.empty());
    REQUIRE(puzzle.sides.size() == 3);
    CHECK(puzzle.sides[0].source == SideStatement::Source::fen);
    CHECK(at(document, puzzle.sides[0].span) == "w");
    CHECK(at(document, puzzle.sides[1].span) == "1.");
    CHECK(puzzle.sides[2].source == SideStatement::Source::caption);
    CHECK(at(document, puzzle.sides[2].span) == "White to move");
    CHECK(document.place(puzzle.span.begin) == Place{1, 1});
}

TEST_CASE("games without a FEN tag are no puzzles: header of the PGN standard 1994, section 2.3") {
    const Document document =
        read_pgn("[Event \"F/S Return Match\"]\n[Site \"Belgrade, Serbia JUG\"]\n[Date \"1992.11.04\"]\n"
                 "[Round \"29\"]\n[White \"Fischer, Robert J.\"]\n[Black \"Spassky, Boris V.\"]\n"
                 "[Result \"1/2-1/2\"]\n\n1. e4 e5 2. Nf3 Nc6 1/2-1/2\n\n" +
                 game("1. Rd8# *") +
                 "[Event \"x\"]\n[SetUp \"1\"]\n[FEN \"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - "
                 "0 1\"]\n\n1. e4 *\n");
    CHECK(reading::ids(document) == Texts{"a.pgn#1"});
    CHECK_FALSE(document.puzzles.at(0).id_stated);
    CHECK(document.faults.empty());
}

TEST_CASE("the FEN tag behind an empty line, with CR LF and the end-of-file byte of DOS") {
    const Document document = read_pgn("[Event \"Suite\"]\r\n[White \"S.001\"]\r\n[Black \"Key: Rd8# "
                                       "Rd7\"]\r\n[Result \"*\"]\r\n\r\n[FEN \"" +
                                           back_rank +
                                           "\"]\r\n\r\n*\r\n\r\n[Event \"Suite\"]\r\n[White "
                                           "\"S.002\"]\r\n[Black \"Key: Rd1-d8\"]\r\n\r\n[FEN \"" +
                                           back_rank + "\"]\r\n\r\n*\r\n\x1a",
                                       {{}, {{"*.pgn", "White", "Black", "", "", "Key:"}}});
    REQUIRE(reading::ids(document) == Texts{"S.001", "S.002"});
    const Puzzle& puzzle = document.puzzles[0];
    CHECK(puzzle.key_only);
    CHECK(moves(puzzle.solution) == Texts{"Rd8#"});
    CHECK(values(puzzle.accepted) == Texts{"Rd7"});
    CHECK(at(document, puzzle.solution_span) == "Rd8# Rd7");
    CHECK(puzzle.field("White") == nullptr);
    CHECK(document.puzzles[1].solution.nodes.at(1).status == MoveStatus::legal);
    CHECK(document.faults.empty());
}

TEST_CASE("PuzzleId goes before a mapped tag; a key tag next to a line adds the other keys") {
    const ReadOptions options{{}, {{"**", "Round", "Key", "", "", ""}}};
    const Document document =
        read_pgn(game("1. Rd8# *", "[Round \"7\"]\n[PuzzleId \"own\"]\n[Key \"Rd8 Rd7\"]\n") +
                     game("1. Rd8# *", "[Round \"8\"]\n[Key \"Rd6\"]\n"),
                 options);
    REQUIRE(reading::ids(document) == Texts{"own", "8"});
    CHECK(document.puzzles[0].field("Round")->value == "7");
    CHECK_FALSE(document.puzzles[0].key_only);
    CHECK(values(document.puzzles[0].accepted) == Texts{"Rd7"});
    CHECK(document.puzzles[1].faults.size() == 1); // the line does not begin with a key
}

TEST_CASE("games run into each other in every way") {
    const std::string tag = "[FEN \"" + back_rank + "\"]";
    CHECK(read_pgn(tag + " 1. Rd8# 1-0 " + tag + " 1. Rd7 *").puzzles.size() == 2);
    CHECK(read_pgn(tag + "\n1. Rd8#\n" + tag + "\n1. Rd7").puzzles.size() == 2);
    CHECK(read_pgn(tag + "\n\n" + tag + "\n\n" + tag).puzzles.size() == 3);
    CHECK(read_pgn("[Event \"a\"]\n" + tag + "\n\n[Event \"b\"]\n" + tag + "\n").puzzles.size() == 2);
    CHECK(read_pgn("\xef\xbb\xbf" + tag + "\n\n*\n\n\xef\xbb\xbf" + tag + "\n\n*").puzzles.size() == 2);
    CHECK(read_pgn(tag + tag).puzzles.size() == 1); // one game with a tag twice
    CHECK(read_pgn(tag + tag).puzzles[0].faults.size() == 1);
    CHECK(read_pgn("% escape [FEN \"x\"]\n" + tag + "\n% more\n[Event \"x\"]\n\n1. Rd8#").puzzles.size() ==
          1);
    CHECK(read_pgn("").puzzles.empty());
}

TEST_CASE("tags with quotes and backslashes") {
    const Document document = read_pgn(game("*", "[Event \"The \\\"Harbour\\\" \\\\ club\"]\n"));
    CHECK(document.puzzles.at(0).fields.at(0).value == "The \"Harbour\" \\ club");
    CHECK(document.puzzles[0].faults.empty());
    for (const std::string tag : {"[Event \"Tournament \\\"]\n", "[Event \"The \"Harbour\" club\"]\n",
                                  "[Event \"open]\n", "[Event \"open\n", "[Event bare]\n"}) {
        const Document broken = read("a.pgn", game("1. Rd8# *", tag) + game("*"), {});
        INFO(tag);
        REQUIRE(broken.puzzles.size() == 2);
        REQUIRE(broken.puzzles[0].faults.size() == 1);
        CHECK(place(broken, broken.puzzles[0].faults[0].span) == "1:1");
        CHECK(moves(broken.puzzles[0].solution) == Texts{"Rd8#"});
        CHECK(broken.puzzles[1].faults.empty());
    }
    CHECK(read_pgn("[FEN " + back_rank + "]\n\n1. Rd8#").puzzles.at(0).position);
    CHECK(read_pgn("[fen \"" + back_rank + "\"]\n\n1. Rd8#").puzzles.at(0).position);
}

TEST_CASE("a comment that is not closed spoils its own game only") {
    const Document document =
        read_pgn(game("1. Rd8# {no end", "[Event \"x\"]\n") + game("1. Rd7 {a}", "[Event \"y\"]\n"));
    REQUIRE(document.puzzles.size() == 2);
    CHECK(document.puzzles[0].faults.size() == 1);
    CHECK(moves(document.puzzles[1].solution) == Texts{"Rd7"});
    CHECK(document.puzzles[1].faults.empty());
    const Document closed = read_pgn(game("1. Rd8# {[%csl Rd8]\n[Variation \"x\"] } 1-0"));
    CHECK(closed.puzzles.at(0).faults.empty());
    CHECK(closed.puzzles[0].solution.result);
}

TEST_CASE("truncated at every byte a file is read without a fault that it does not have") {
    const std::string whole = game("1. Rd7 (1. Rd6 {a \\ } $1) 1... h6 2. Rd8+ ; x\n Kh7 1-0",
                                   "[Event \"a \\\"b\\\"\"]\n[Goal \"win\"]\n");
    for (std::size_t size = 0; size <= whole.size(); ++size) {
        read_pgn(whole.substr(0, size));
    }
    CHECK(read_pgn(whole).puzzles.at(0).faults.empty());
}

TEST_CASE("text behind the result is said to be lost") {
    CHECK(read_pgn(game("1. Rd8# 1-0 2. Kg2")).puzzles.at(0).faults.size() == 1);
    CHECK(read_pgn(game("1. Rd8# 1-0 {a remark}")).puzzles.at(0).faults.empty());
}

TEST_CASE("captions count only when they are plain") {
    const auto sides = [](const std::string& event, const std::string& comment) {
        return read_pgn(game("{" + comment + "} *", "[Event \"" + event + "\"]\n")).puzzles.at(0).sides;
    };
    CHECK(sides(" White to move.", "x").size() == 2);
    CHECK(sides("12) black to PLAY and win", "x").at(1).color == board::Color::black);
    CHECK(sides("x", "Find the win. Black to move").at(1).color == board::Color::black);
    CHECK(sides("Black to move", "Black to move").size() == 3);
    CHECK(sides("x", "With Black to move it would be a draw").size() == 1);
    CHECK(sides("x", "White to move would win").size() == 1);
    CHECK(sides("x", "White to move: win; Black to move: draw").size() == 1);
    CHECK(sides("x", "White to movement").size() == 1);
    CHECK(sides("x", "Whiteto move, blackbird to move").size() == 1);
}

TEST_CASE("Latin-1 is no fault; NUL bytes are one a file") {
    const Document latin = read("a.pgn", game("{M\xfcller} 1. Rd8# *", "[White \"J\xf6rg\"]\n"), {});
    CHECK(latin.faults.empty());
    CHECK(latin.puzzles.at(0).fields.at(0).value == "J\xc3\xb6rg");
    CHECK(at(latin, latin.puzzles[0].fields[0].span) == "J\xf6rg");
    CHECK(latin.puzzles[0].solution.nodes[0].comments.at(0).text == "M\xc3\xbcller");
    CHECK(place(latin, latin.puzzles[0].solution.nodes[1].span) == "4:13");
    const std::string nul(1, '\0');
    const Document zeros = read("a.pgn", game("1. Rd8#" + nul + " *") + nul + game("*" + nul), {});
    REQUIRE(zeros.faults.size() == 1);
    CHECK(zeros.faults[0].kind == Fault::Kind::encoding);
    CHECK(zeros.puzzles.size() == 2);
    const Document wide = read("a.pgn", std::string("\xff\xfe[\0F\0", 6), {});
    REQUIRE(wide.faults.size() == 1);
    CHECK(wide.faults[0].kind == Fault::Kind::encoding);
}

TEST_CASE("a diagram that cannot be played keeps its puzzle") {
    const Document document = read_pgn(
        "[FEN \"8/8/8/8/8/8/8/8 w - - 0 1\"]\n\n1. e4 *\n\n[FEN \"\"]\n\n*\n\n[FEN \"garbage\"]\n\n*\n\n"
        "[FEN \"4k3/8/8/8/8/8/8/4K3 w KQ e3 0 1\"]\n\n1. Kd2 *\n");
    REQUIRE(document.puzzles.size() == 4);
    CHECK_FALSE(document.puzzles[0].position);
    CHECK(document.puzzles[0].setup_faults.has(board::SetupFault::kings));
    CHECK(document.puzzles[0].solution.nodes.at(1).status == MoveStatus::unchecked);
    CHECK(document.puzzles[1].faults.size() == 1);
    CHECK_FALSE(document.puzzles[2].reading.usable);
    CHECK(document.puzzles[3].position); // rights and square that contradict the diagram are dropped
    CHECK(document.puzzles[3].setup_faults.has(board::SetupFault::castling_rights));
    CHECK(document.puzzles[3].solution.nodes.at(1).status == MoveStatus::legal);
}

TEST_CASE("the same game with any line ends has the same places and faults") {
    const std::string text =
        game("1. Rd8#! {a\nb} ; c\n (1. Rd7) ) *", "[Event \"Black to move\"]\n[Goal \"nonsense\"]\n") +
        game("1. Rd8#", "[Themes \"a,b\"]\n");
    const auto told = [](const std::string& bytes) {
        const Document document = read("a.pgn", bytes, {});
        Texts lines;
        for (const Puzzle& puzzle : document.puzzles) {
            lines.push_back(place(document, puzzle.span) + place(document, puzzle.fen.span) +
                            place(document, puzzle.solution_span));
            for (const Fault& fault : puzzle.faults) {
                lines.push_back(place(document, fault.span) + fault.what);
            }
            for (const TreeNode& node : puzzle.solution.nodes) {
                lines.push_back(place(document, node.span) + node.text);
            }
            for (const SideStatement& side : puzzle.sides) {
                lines.push_back(place(document, side.span));
            }
        }
        return lines;
    };
    const Texts wanted = told(text);
    CHECK(wanted.size() > 10);
    for (const std::string end : {"\r\n", "\r"}) {
        std::string other;
        for (const char c : text) {
            other += c == '\n' ? end : std::string(1, c);
        }
        CHECK(told(other) == wanted);
    }
    std::string mixed;
    int line = 0;
    for (const char c : text) {
        mixed += c != '\n' ? std::string(1, c) : ++line % 2 == 0 ? "\r\n" : "\n";
    }
    CHECK(told("\xef\xbb\xbf" + mixed) == wanted);
}
