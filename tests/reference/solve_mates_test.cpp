// Published mates: the prover must find the length and the key, and no other key.

#include "solve_reading.hpp"

using board::Color;
using board::Position;
using namespace solve_reference;
using solve::Aim;
using solve::Answer;
using solve::Certainty;
using solve::Mates;
using solve::Solver;

namespace {

/// The shortest mate, the whole proof and a line of that length that ends in mate.
Mates prove(const Position& at, int length) {
    const Mates mates = Solver(ample).mates(at, length);
    CHECK(mates.complete);
    CHECK(mates.length == length);
    if (mates.length) {
        CHECK(mates.line.size() == static_cast<std::size_t>(2 * *mates.length - 1));
        Position end = at;
        for (const board::Move m : mates.line) {
            REQUIRE(end.is_legal(m));
            end.make(m);
        }
        CHECK(end.is_checkmate());
    }
    return mates;
}

void check_only_key(const Position& at, int length, board::Move key) {
    CHECK(sans(at, prove(at, length).keys) == sans(at, {key}));
}

int number(const std::string& digits) {
    REQUIRE(digits.size() == 1);
    return digits[0] - '0';
}

} // namespace

TEST_CASE("composed problems have the published key and no other") {
    const auto problems = rows("solve-composed.tsv");
    CHECK(problems.size() == 24);
    for (std::size_t i = 0; i < problems.size(); i += every) {
        const auto& fields = problems[i];
        REQUIRE(fields.size() == 6);
        INFO(fields[0] << ", " << fields[1] << ": " << fields[2]);
        const Position at = position(fields[2]);
        const int length = number(fields[3]);
        const Mates mates = prove(at, length);
        REQUIRE(mates.keys.size() == 1);
        if (!fields[4].empty()) {
            CHECK(mates.keys.front() == move(at, fields[4]));
        }
        for (const std::string& published : parts(fields[5], ";")) {
            INFO(published);
            const auto try_and_reply = parts(published, "> ");
            REQUIRE(try_and_reply.size() == 2);
            const board::Move tried = move(at, try_and_reply[0]);
            CHECK(tried != mates.keys.front());
            const Position tried_at = at.after(tried);
            const Position refuted = tried_at.after(move(tried_at, try_and_reply[1]));
            const auto judged = Solver(ample).reaches(refuted, at.turn(), Aim::mate(length - 1));
            CHECK(judged.answer == Answer::no);
            CHECK(judged.certainty == Certainty::proved);
        }
    }
}

TEST_CASE("mates from games have the published length and key, and no other key") {
    const auto games = rows("solve-games.tsv");
    CHECK(games.size() > 200);
    for (std::size_t i = 0; i < games.size(); i += every) {
        REQUIRE(games[i].size() == 3);
        INFO(games[i][0]);
        const Position at = position(games[i][0]);
        check_only_key(at, number(games[i][1]), move(at, games[i][2]));
    }
}

TEST_CASE("mates from games played online have the published length and key, and no other key") {
    const auto puzzles = rows("solve-online.tsv");
    CHECK(puzzles.size() > 100);
    for (std::size_t i = 0; i < puzzles.size(); i += every) {
        REQUIRE(puzzles[i].size() == 4);
        INFO(puzzles[i][0] << " " << puzzles[i][1]);
        const Position before = position(puzzles[i][0]);
        const auto lead = board::read_coordinate(before, puzzles[i][1]);
        REQUIRE(lead.has_value());
        const Position at = before.after(*lead);
        const auto key = board::read_coordinate(at, puzzles[i][3]);
        REQUIRE(key.has_value());
        check_only_key(at, number(puzzles[i][2]), *key);
    }
}

TEST_CASE("the published key of an ideal mate is a key of the shortest mate") {
    const auto problems = rows("solve-ideal.tsv");
    CHECK(problems.size() == 53);
    int proved = 0;
    int sole = 0;
    for (std::size_t i = 0; i < problems.size(); i += every) {
        REQUIRE(problems[i].size() == 2);
        INFO(problems[i][0]);
        const Position at = position(problems[i][0]);
        const Mates mates = Solver(ample).mates(at, 4);
        if (!mates.length) {
            continue; // longer ones occur
        }
        ++proved;
        sole += mates.keys.size() == 1 ? 1 : 0;
        std::vector<board::Move> published;
        for (const std::string& key : parts(problems[i][1], " ")) {
            published.push_back(move(at, key));
            CHECK(std::count(mates.keys.begin(), mates.keys.end(), published.back()) == 1);
        }
    }
    CHECK(static_cast<std::size_t>(proved) >= 30 / every);
    CHECK(static_cast<std::size_t>(sole) >= 28 / every);
}

namespace {

struct Published {
    const char* what;  ///< players, place and year; moves from memory
    const char* moves; ///< or the diagram
    int length;
    const char* key;
};

} // namespace

TEST_CASE("mates at the end of famous games") {
    const auto game = GENERATE(values<Published>({
        {"shortest of all", "1. f3 e5 2. g4", 1, "Qh4#"},
        {"scholar's mate", "1. e4 e5 2. Bc4 Nc6 3. Qh5 Nf6", 1, "Qxf7#"},
        {"Legall and Saint Brie, Paris, about 1750", "1. e4 e5 2. Bc4 d6 3. Nf3 Bg4 4. Nc3 g6 5. Nxe5 Bxd1",
         2, "Bxf7+"},
        {"Reti and Tartakower, Vienna, 1910",
         "1. e4 c6 2. d4 d5 3. Nc3 dxe4 4. Nxe4 Nf6 5. Qd3 e5 6. dxe5 Qa5+ 7. Bd2 Qxe5 8. O-O-O Nxe4", 3,
         "Qd8+"},
        {"Morphy and the Duke of Brunswick with Count Isouard, Paris, 1858",
         "1. e4 e5 2. Nf3 d6 3. d4 Bg4 4. dxe5 Bxf3 5. Qxf3 dxe5 6. Bc4 Nf6 7. Qb3 Qe7 8. Nc3 c6 9. Bg5 b5 "
         "10. Nxb5 cxb5 11. Bxb5+ Nbd7 12. O-O-O Rd8 13. Rxd7 Rxd7 14. Rd1 Qe6 15. Bxd7+ Nxd7",
         2, "Qb8+"},
        {"Schulder and Boden, London, 1853",
         "1. e4 e5 2. Nf3 d6 3. c3 f5 4. Bc4 Nf6 5. d4 fxe4 6. dxe5 exf3 7. exf6 Qxf6 8. gxf3 Nc6 9. f4 Bd7 "
         "10. Be3 O-O-O 11. Nd2 Re8 12. Qf3 Bf5 13. O-O-O d5 14. Bxd5",
         2, "Qxc3+"},
        {"Canal and a player in a simultaneous display, Budapest, 1934",
         "1. e4 d5 2. exd5 Qxd5 3. Nc3 Qa5 4. d4 c6 5. Nf3 Bg4 6. Bf4 e6 7. h3 Bxf3 8. Qxf3 Bb4 9. Be2 Nd7 "
         "10. a3 O-O-O 11. axb4 Qxa1+ 12. Kd2 Qxh1",
         2, "Qxc6+"},
        {"Anderssen and Kieseritzky, London, 1851",
         "1. e4 e5 2. f4 exf4 3. Bc4 Qh4+ 4. Kf1 b5 5. Bxb5 Nf6 6. Nf3 Qh6 7. d3 Nh5 8. Nh4 Qg5 9. Nf5 c6 "
         "10. g4 Nf6 11. Rg1 cxb5 12. h4 Qg6 13. h5 Qg5 14. Qf3 Ng8 15. Bxf4 Qf6 16. Nc3 Bc5 17. Nd5 Qxb2 "
         "18. Bd6 Bxg1 19. e5 Qxa1+ 20. Ke2 Na6",
         3, "Nxg7+"},
        {"Anderssen and Dufresne, Berlin, 1852",
         "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 4. b4 Bxb4 5. c3 Ba5 6. d4 exd4 7. O-O d3 8. Qb3 Qf6 9. e5 Qg6 "
         "10. Re1 Nge7 11. Ba3 b5 12. Qxb5 Rb8 13. Qa4 Bb6 14. Nbd2 Bb7 15. Ne4 Qf5 16. Bxd3 Qh5 "
         "17. Nf6+ gxf6 18. exf6 Rg8 19. Rad1 Qxf3 20. Rxe7+ Nxe7",
         4, "Qxd7+"},
    }));
    INFO(game.what);
    const Position at = after(Position(), game.moves);
    check_only_key(at, game.length, move(at, game.key));
}

TEST_CASE("problems known by heart") {
    const auto problem = GENERATE(values<Published>({
        // composer, source and year; diagrams from memory
        {"P. Morphy, New York Clipper, 1856", "kbK5/pp6/1P6/8/8/8/8/R7 w - - 0 1", 2, "Ra6"},
        {"S. Loyd, London Era, 1861 (Excelsior)", "n1rb4/1p3p1p/1p6/1R5K/8/p3p1PN/1PP1R3/N6k w - - 0 1", 5,
         "b4"},
    }));
    INFO(problem.what);
    const Position at = position(problem.moves);
    check_only_key(at, problem.length, move(at, problem.key));
}

TEST_CASE("a long mate by checks is proved") {
    // Edward Lasker and Thomas, London, 1912 (moves from memory): 11. Qxh7+ mates by the eighteenth move.
    const Position at = after(Position(), "1. d4 e6 2. Nf3 f5 3. Nc3 Nf6 4. Bg5 Be7 5. Bxf6 Bxf6 6. e4 fxe4 "
                                          "7. Nxe4 b6 8. Ne5 O-O 9. Bd3 Bb7 10. Qh5 Qe7");
    const auto judged =
        Solver(solve::budget_of(solve::Effort::review)).reaches(at, Color::white, Aim::mate(8));
    CHECK(judged.answer == Answer::yes);
    CHECK(judged.certainty == Certainty::proved);
    REQUIRE_FALSE(judged.line.empty());
    CHECK(board::write_san(at, judged.line.front()) == "Qxh7+");
    CHECK(judged.value.mate_in.value_or(99) <= 8);
}
