#include "from_text.hpp"
#include "setup/legality.hpp"

#include <algorithm>
#include <fstream>
#include <limits>
#include <map>
#include <regex>
#include <set>
#include <sstream>

using setup::Contradiction;
using setup::contradictions;
using setup::Grade;
using setup::Rule;

namespace {

const Contradiction* find(const std::vector<Contradiction>& found, const std::string& code) {
    const auto at =
        std::find_if(found.begin(), found.end(), [&](const Contradiction& c) { return c.code == code; });
    return at == found.end() ? nullptr : &*at;
}

Contradiction only(const std::string& fen) {
    const std::vector<Contradiction> found = contradictions(from_text::setup(fen));
    INFO(fen);
    REQUIRE(found.size() == 1);
    return found.front();
}

std::string repair(const Contradiction& contradiction) {
    return contradiction.repaired ? board::write_fen(*contradiction.repaired) : "none";
}

struct Example {
    std::string code;
    std::string verdict;
    std::string source;
    std::string fen;

    [[nodiscard]] bool is_about_text() const { return code.front() == 'X'; }
};

std::vector<Example> examples() {
    std::ifstream file(SIDELINT_SOURCE_DIR "/tests/setup/examples.csv");
    std::vector<Example> list;
    for (std::string line; std::getline(file, line);) {
        if (line.empty() || line.front() == '#') {
            continue;
        }
        std::istringstream fields(line);
        Example example;
        std::getline(fields, example.code, ',');
        std::getline(fields, example.verdict, ',');
        std::getline(fields, example.source, ',');
        std::getline(fields, example.fen);
        list.push_back(example);
    }
    return list;
}

/// The conditions that prove a side field wrong, not the placement.
bool is_about_field(const std::string& code) {
    return code == "M3" || code == "B1" || code.front() == 'R' || code.front() == 'E' || code.front() == 'F';
}

} // namespace

TEST_CASE("every condition has an example that meets it and one that does not, and a source") {
    std::map<std::string, std::set<std::string>> verdicts;
    for (const Example& example : examples()) {
        INFO(example.code << ' ' << example.fen);
        CHECK((example.verdict == "ok" || example.verdict == "bad" || example.verdict == "odd"));
        CHECK(std::regex_match(example.source, std::regex("(FIDE|PGN|Codex) [0-9].*|common practice|own")));
        verdicts[example.code].insert(example.verdict);
    }
    for (const char* code :
         {"X1", "X2", "X3", "X4", "X5", "X6", "K1", "K2", "P1", "C1", "N1", "N2", "N3", "N4",
          "H1", "H2", "W1", "W2", "W3", "W4", "W5", "T1", "T2", "T3", "M1", "M2", "M3", "R1",
          "R3", "R5", "E1", "E2", "E3", "E4", "E5", "B1", "F1", "F2", "G1", "G2"}) {
        INFO(code);
        CHECK(verdicts[code].contains("ok"));
        CHECK(verdicts[code].size() > 1);
    }
}

TEST_CASE("every example of a FEN's text is read as the list says") {
    const std::map<std::string, board::FenFaultKind> kinds{
        {"X1", board::FenFaultKind::shape},    {"X3", board::FenFaultKind::side},
        {"X4", board::FenFaultKind::castling}, {"X5", board::FenFaultKind::en_passant},
        {"X6", board::FenFaultKind::clock},
    };
    for (const Example& example : examples()) {
        if (!example.is_about_text()) {
            continue;
        }
        INFO(example.code << ' ' << example.verdict << ' ' << example.fen);
        const board::FenReading reading = board::read_fen(example.fen);
        if (example.verdict == "ok") {
            CHECK(reading.faults.empty());
            continue;
        }
        REQUIRE(reading.faults.size() == 1);
        const bool style = example.verdict == "odd"; // readable all the same
        CHECK(reading.faults.front().kind == (style ? board::FenFaultKind::style : kinds.at(example.code)));
        CHECK(reading.usable == (style || (example.code != "X1" && example.code != "X3")));
    }
}

TEST_CASE("every example of a diagram is judged as the list says") {
    for (const Example& example : examples()) {
        if (example.is_about_text()) {
            continue;
        }
        INFO(example.code << ' ' << example.verdict << ' ' << example.fen);
        const std::vector<Contradiction> found = contradictions(from_text::setup(example.fen));
        if (example.verdict == "ok") {
            CHECK(found.empty());
            continue;
        }
        const Contradiction* named = find(found, example.code);
        REQUIRE(named != nullptr);
        CHECK(named == &found.front());
        CHECK_FALSE(named->why.empty());
        CHECK(std::is_sorted(named->squares.begin(), named->squares.end()));
        CHECK((named->grade == Grade::illegal) ==
              (example.verdict == "bad" && !is_about_field(example.code)));
    }
}

TEST_CASE("diagrams reached by legal moves are never shown illegal") {
    // Written for this test; the last ones use every special move.
    const auto moves = GENERATE(
        as<std::string>(), "h4 g5 hxg5 h5 g6 h4 g7 Nf6 g8=Q", "a3 e6 b3 Bb4",
        "Nh3 Nc6 Ng1 Na5 Nh3 Nc4 Ng1 Na3 bxa3", "Nf3 e6 Ng1 Bb4", "e4 e5",
        "e4 d5 e5 f5 exf6 Kf7 fxg7 Nf6 gxh8=N+ Kg8 Nf3 Bh6 Be2 Be3 O-O Bb6 Ne5 Kg7 Nef7 Qg8",
        "d4 e5 d5 c5 dxc6 Nf6 cxb7 Be7 bxa8=R O-O Bf4 exf4 Na3 d5 Qxd5 Nxd5 O-O-O", "f3 e5 g4 Qh4#",
        "Nf3 a5 Ng1 Ra6 Nf3 Rb6 Ng1 Rb3 axb3 Nf6 Ra4 Ng8 Rh4 a4 Nf3 a3 Ng1 a2 Nf3 a1=N Ng1 b6 Nf3 Bb7 "
        "Ng1 Be4 Nf3 Qc8 Ng1 Qa6 Nf3 Qa4 bxa4 Nf6 a5 Ng8 a6 Nf6 a7 Ng8 a8=B Nf6");
    board::Position position;
    std::istringstream words(moves);
    for (std::string word; words >> word;) {
        INFO(moves << " at " << word);
        position.make(from_text::move(position, word));
        for (const Contradiction& c : contradictions(position.setup())) {
            INFO(c.code << ' ' << c.why);
            CHECK(c.grade == Grade::suspicion);
        }
    }
}

TEST_CASE("a repair is offered when exactly one change mends the diagram") {
    SECTION("the other side to move") {
        CHECK(repair(only("4k3/8/8/8/8/8/8/4RK2 w - - 0 1")) == "4k3/8/8/8/8/8/8/4RK2 b - - 0 1");
        CHECK(repair(only("rnbqkbnr/pppppppp/8/8/8/5N2/PPPPPPPP/RNBQKB1R w KQkq - 1 2")) ==
              "rnbqkbnr/pppppppp/8/8/8/5N2/PPPPPPPP/RNBQKB1R b KQkq - 1 2");
    }
    SECTION("not when both kings are in check") {
        CHECK(repair(only("4k3/8/8/8/8/5r2/8/4RK2 w - - 0 1")) == "none");
    }
    SECTION("the other side to move when nobody can have moved last") {
        CHECK(repair(only("kB6/PN6/8/8/8/8/8/4K3 w - - 0 1")) == "kB6/PN6/8/8/8/8/8/4K3 b - - 0 1");
    }
    SECTION("not when the game would be over then") {
        CHECK(repair(only("kB6/PN6/2P5/8/8/8/8/4K3 w - - 0 1")) == "none");
    }
    SECTION("castling letters without their men") {
        const Contradiction found = only("4k3/8/8/8/8/8/P7/4K2R w KQ - 0 1");
        CHECK(found.code == "R1");
        CHECK(found.squares == std::vector{board::Square::a1});
        CHECK(repair(found) == "4k3/8/8/8/8/8/P7/4K2R w K - 0 1");
    }
    SECTION("the one letter that the last move denies, but not one of two") {
        CHECK(repair(only("4k2r/8/8/8/8/8/8/4K3 w k - 0 1")) == "4k2r/8/8/8/8/8/8/4K3 w - - 0 1");
        CHECK(repair(only("r3k2r/8/8/8/8/8/8/R3K2R b KQkq - 0 1")) == "none");
    }
    SECTION("an en-passant square; but the turn may be wrong instead") {
        CHECK(repair(only("4k3/8/8/3pP3/8/8/8/4K3 w - e6 0 1")) == "4k3/8/8/3pP3/8/8/8/4K3 w - - 0 1");
        const Contradiction found = only("4k3/8/8/3pP3/8/8/8/4K3 b - d6 0 1");
        CHECK(found.code == "E1");
        CHECK(repair(found) == "none");
    }
    SECTION("counters at move 1, where only one pair is possible") {
        CHECK(repair(only("4k3/8/8/8/8/8/4P3/4K3 w - - 1 1")) == "4k3/8/8/8/8/8/4P3/4K3 w - - 0 1");
        CHECK(repair(only("4k3/8/8/8/8/8/4P3/4K3 w - - 50 10")) == "none");
    }
}

TEST_CASE("reasons name the men") {
    CHECK(only("4k3/8/8/8/8/8/1P6/B3K3 w - - 0 1").why ==
          "the white bishop on a1 cannot have got there, from home or by promotion: the pawn on b2 never "
          "moved");
    CHECK(only("4k3/8/8/8/8/P7/PP6/4K3 w - - 0 1").why ==
          "the white pawns on a2, b2 and a3 can only have come from a2 and b2");
    CHECK(only("4k3/8/8/8/8/8/PPPPPPPP/3QKQ2 w - - 0 1").why ==
          "of White's queens on d1 and f1 at least 1 must be promoted, but no pawn is missing");
    CHECK(only("rnbqkbnr/p1pppppp/1p6/8/4B3/8/1PPPPPPP/RNBQK1NR w - - 0 1").why ==
          "of White's bishop on e4 at least 1 must be promoted (no bishop ever left f1), but with 0 black "
          "and 1 white "
          "men missing the pawns cannot have passed each other so often, with the pawns where they stand");
    CHECK(only("rnbqkbnr/pppppppp/8/8/8/P7/P1PPPPPP/RNBQKBNR w KQkq - 0 1").why ==
          "the white pawns on a2 and a3 have made at least 1 capture, but Black lacks nothing");
    CHECK(only("rnbqk1nr/pppppppp/8/8/8/P7/P1PPPPPP/RNBQKBNR w KQkq - 0 1").why ==
          "the white pawns on a2 and a3 have made at least 1 capture, but Black lacks only 1 of its men, and "
          "what "
          "stood on f8 at first died out of a pawn's reach");
    CHECK(only("4k3/8/8/8/8/8/8/4RK2 w - - 0 1").why ==
          "it is White's move, but the black king on e8 is in check from the rook on e1");
}

TEST_CASE("a board read upside down shows in pawns that have passed each other") {
    // A plain middlegame with 30 men, turned by half a circle.
    const Contradiction found = only("1KR1QB1R/PPP2PPP/2N1P3/3P1B2/3p1b2/2n1p3/ppp2ppp/1kr1qb1r w - - 0 1");
    CHECK(found.rule == Rule::unreachable);
    CHECK(found.grade == Grade::illegal);
}

TEST_CASE("what hinges on castling rights is blamed on them") {
    // If the king never moved, the rook of the other wing was shut in behind its pawns.
    const std::vector<Contradiction> found =
        contradictions(from_text::setup("4k3/p7/8/8/8/R6P/PPPPPPP1/4K2R w K - 0 1"));
    REQUIRE(found.size() == 1);
    CHECK(found.front().code == "R3");
    CHECK(found.front().grade == Grade::field);
    CHECK(repair(found.front()) == "4k3/p7/8/8/8/R6P/PPPPPPP1/4K2R w - - 0 1");
}

TEST_CASE("the move before the last one is looked at as well") {
    // Black's only move was h7-h6; with g7, h7 and e8 unmoved the white king could not have come to g8.
    const Contradiction found = only("r3k1K1/1R4p1/7p/8/8/8/8/8 w q - 0 1");
    CHECK(found.code == "M3");
    CHECK(repair(found) == "r3k1K1/1R4p1/7p/8/8/8/8/8 w - - 0 1");
}

TEST_CASE("when every last move leads back to the impossible, the men that can have moved are named") {
    // The check comes from h7-h6, and behind three unmoved pawns no bishop gets to g8.
    const Contradiction found = only("k5B1/5pp1/7p/6K1/8/8/8/8 w - - 0 1");
    CHECK(found.why ==
          "only the pawn on h6 can have made the last move of Black, and each way back leads to a diagram "
          "that cannot arise: with the pawn back on h7, the white bishop on g8 cannot have got there, from "
          "home or by promotion: the pawns on f7, g7 and h7 never moved");
    CHECK(found.squares == std::vector{board::Square::h6});
}

TEST_CASE("a finished game is told, but is no contradiction") {
    for (const char* fen : {"7k/5QQ1/8/8/8/8/8/K7 b - - 0 1", "7k/5Q2/8/8/8/8/8/K7 b - - 0 1"}) {
        const Contradiction found = only(fen);
        CHECK(found.code == "G1");
        CHECK(found.grade == Grade::suspicion);
    }
    CHECK(only("8/8/8/3k1K2/8/8/8/8 w - - 0 1").code == "G2");
    CHECK(only("4k3/8/8/8/8/8/4P3/4K3 w - - 120 90").code == "F2");
}

TEST_CASE("no diagram is too strange to be judged") {
    CHECK(find(contradictions(board::Setup{}), "K1") != nullptr);

    board::Setup crowd;
    for (int i = 0; i < 64; ++i) {
        crowd.put(board::square_at(i), {i % 2 == 0 ? board::Color::white : board::Color::black,
                                        board::all_roles[static_cast<std::size_t>(i) % 6]});
    }
    CHECK_FALSE(contradictions(crowd).empty());

    board::Setup counters = from_text::setup("4k3/8/8/8/8/8/4P3/4K3 w - - 0 1");
    for (const int value : {std::numeric_limits<int>::max(), std::numeric_limits<int>::min(), -1, 0, 1}) {
        counters.halfmoves = value;
        counters.fullmove = std::numeric_limits<int>::max();
        CHECK((find(contradictions(counters), "F1") != nullptr) == (value < 0));
        counters.fullmove = value;
        counters.halfmoves = 0;
        CHECK((find(contradictions(counters), "F1") != nullptr) == (value < 1));
    }

    board::Setup square = from_text::setup("4k3/8/8/3pP3/8/8/8/4K3 w - - 0 1");
    for (int i = 0; i < 64; ++i) {
        square.en_passant = board::square_at(i);
        CHECK(contradictions(square).empty() == (square.en_passant == board::Square::d6));
    }
}
