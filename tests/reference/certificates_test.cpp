// Every published mate gets a certificate, and every certificate holds: problems, games, and endings whose
// length is known exactly.

#include "shared_tables.hpp"
#include "solve/certificate.hpp"
#include "solve/long_mate.hpp"
#include "solve/mate.hpp"
#include "solve_reading.hpp"

using board::Position;
using namespace solve_reference;
using solve::CertificateRefusal;
using solve::check_certificate;
using solve::EndgameTables;
using solve::write_certificate;

namespace {

std::string fen(const Position& position) {
    return board::write_fen(position.setup());
}

/// The certificate of a mate holds and says what was claimed; of a mate that is shortest, a shorter one is
/// refused.
void check_holds(const Position& at, board::Move key, int length, const solve::Budget& budget,
                 const EndgameTables* tables = nullptr) {
    INFO(fen(at) << ' ' << board::write_san(at, key) << ' ' << length);
    const auto written = write_certificate({at, key, length}, budget, tables);
    REQUIRE(written.ok());
    const auto checked = check_certificate(*written);
    INFO(written->substr(0, 1000));
    REQUIRE(checked.ok());
    CHECK(checked->fen == fen(at));
    CHECK(checked->moves == length);
    CHECK(checked->key == board::write_line(at, std::array{key}));
    CHECK(write_certificate({at, key, length}, budget, tables).value() == *written);
    std::string shorter = *written;
    const std::string goal = "goal mate in " + std::to_string(length) + "\n";
    shorter.replace(shorter.find(goal), goal.size(), "goal mate in " + std::to_string(length - 1) + "\n");
    CHECK_FALSE(check_certificate(shorter).ok());
}

const solve::Budget review = solve::budget_of(solve::Effort::review);

} // namespace

TEST_CASE("certificates of mates from games hold") {
    std::size_t written = 0;
    for (const char* file : {"solve-games.tsv", "certificate-games.tsv"}) {
        const auto games = rows(file);
        for (std::size_t i = 0; i < games.size(); i += every) {
            const Position at = position(games[i][0]);
            check_holds(at, move(at, games[i][2]), std::stoi(games[i][1]), ample);
            ++written;
        }
    }
    CHECK(written >= 240 / every);
}

TEST_CASE("certificates of mates from games played online hold") {
    const auto puzzles = rows("solve-online.tsv");
    for (std::size_t i = 0; i < puzzles.size(); i += every) {
        const Position before = position(puzzles[i][0]);
        const Position at = before.after(*board::read_coordinate(before, puzzles[i][1]));
        check_holds(at, *board::read_coordinate(at, puzzles[i][3]), std::stoi(puzzles[i][2]), ample);
    }
}

TEST_CASE("certificates of composed problems hold, and no other first move has one") {
    const auto problems = rows("solve-composed.tsv");
    for (std::size_t i = 0; i < problems.size(); i += every) {
        const Position at = position(problems[i][2]);
        const int length = std::stoi(problems[i][3]);
        int keys = 0;
        for (const board::Move first : at.legal_moves()) {
            INFO(fen(at) << ' ' << board::write_san(at, first));
            const auto written = write_certificate({at, first, length}, ample);
            if (written) {
                ++keys;
                CHECK((problems[i][4].empty() || first == move(at, problems[i][4])));
                check_holds(at, first, length, ample);
            } else {
                CHECK(written.error() == CertificateRefusal::no_mate);
            }
        }
        CHECK(keys == 1);
    }
}

namespace {

/// How soon the other side mates, where that is certain.
std::optional<int> exact_length(Position defender) {
    const solve::Endgames none(nullptr, 0);
    solve::Account account(review.puzzle);
    solve::LongMateProver prover(review.mate, account, none);
    const auto found = prover.find_after(defender);
    return found && found->shortest ? std::optional(found->moves + 1) : std::nullopt;
}

} // namespace

TEST_CASE("certificates of ideal mates hold, each as long as the mate by its published key") {
    const auto problems = rows("solve-ideal.tsv");
    int written = 0;
    int long_ones = 0;
    for (std::size_t i = 0; i < problems.size(); i += every) {
        const Position at = position(problems[i][0]);
        for (const std::string& san : parts(problems[i][1], " ")) {
            const board::Move key = move(at, san);
            if (const auto length = exact_length(at.after(key))) {
                check_holds(at, key, *length, review);
                ++written;
                long_ones += *length > 4 ? 1 : 0;
            }
        }
    }
    CHECK(static_cast<std::size_t>(written) >= 44 / every);
    CHECK(static_cast<std::size_t>(long_ones) >= 8 / every);
}

TEST_CASE("certificates of problems known by heart hold") {
    const Position morphy = position("kbK5/pp6/1P6/8/8/8/8/R7 w - - 0 1"); // New York Clipper, 1856
    check_holds(morphy, move(morphy, "Ra6"), 2, ample);
    // S. Loyd, London Era, 1861 (Excelsior)
    const Position loyd = position("n1rb4/1p3p1p/1p6/1R5K/8/p3p1PN/1PP1R3/N6k w - - 0 1");
    check_holds(loyd, move(loyd, "b4"), 5, ample);
    // Edward Lasker and Thomas, London, 1912
    const Position lasker = position("rn3rk1/pbppq1pp/1p2pb2/4N2Q/3PN3/3B4/PPP2PPP/R3K2R w KQ - 5 11");
    check_holds(lasker, move(lasker, "Qxh7+"), 7, ample);
}

namespace {

struct Ending {
    const char* fen;
    const char* key;
    int moves;
};

// Of our own; how long they last is the tables' word, which other tests hold to published ones.
constexpr Ending endings[] = {
    {"2B5/8/8/8/8/8/2NK4/7k w - - 0 1", "Ne3", 10}, // bishop and knight
    {"7B/7k/8/3NK3/8/8/8/8 w - - 0 1", "Bf6", 11},
    {"4k3/8/7K/8/8/4B3/2B5/8 w - - 0 1", "Bf5", 11}, // two bishops
    {"8/1K4B1/8/8/8/5B2/8/1k6 w - - 0 1", "Be4+", 13},
    {"4Q3/8/8/8/8/1r6/3K4/1k6 w - - 0 1", "Qe5", 12}, // queen against rook
    {"1k6/8/2K5/7R/8/8/n7/8 w - - 0 1", "Rb5+", 10},  // rook against knight
    {"8/1R6/3K3k/8/5p2/8/8/8 w - - 0 1", "Ke5", 12},  // rook against pawn
    {"8/5R2/8/8/6p1/8/k6K/8 w - - 0 1", "Rb7", 12},
    {"8/8/8/1k6/6R1/8/2K5/8 w - - 0 1", "Kc3", 11}, // rook
    {"8/8/K7/4P3/8/8/1k6/8 w - - 0 1", "e6", 10},   // pawn
};

/// Diagrams of up to four men won by the side to move, and in how many moves: as published.
std::vector<std::pair<std::string, int>> published_distances() {
    std::ifstream file(SIDELINT_SOURCE_DIR "/tests/reference/data/endgame-distances.epd");
    REQUIRE(file);
    std::vector<std::pair<std::string, int>> found;
    std::size_t turn = 0;
    for (std::string line; std::getline(file, line);) {
        const std::size_t end = line.find(';');
        const bool row = !line.starts_with('#') && end != std::string::npos;
        const int moves = row ? std::stoi(line.substr(end + 1)) : 0;
        if (moves > 0 && ++turn % every == 0) {
            found.emplace_back(line.substr(0, end), moves);
        }
    }
    return found;
}

/// A first move that mates in `moves`, as the tables say.
std::optional<board::Move> quickest(const Position& at, const EndgameTables& tables, int moves) {
    for (const board::Move move : at.legal_moves()) {
        const auto value = tables.probe(at.after(move));
        if (value && value->outcome == solve::EndgameValue::Outcome::loss &&
            value->plies_to_mate == 2 * (moves - 1)) {
            return move;
        }
    }
    return std::nullopt;
}

constexpr int longest_written = 16; // of published distances, so that the test does not take long

/// The complete prover comes to no end with it in 1.5 million positions: neither with every move nor by
/// checks.
bool beyond_complete_search(const Ending& ending) {
    for (const auto scope : {solve::MateProver::Scope::checks, solve::MateProver::Scope::all}) {
        solve::Account account(1'500'000);
        const solve::Endgames none(nullptr, 0);
        solve::MateProver prover(review.mate / 2, account, none);
        const Position at = position(ending.fen);
        Position after = at.after(move(at, ending.key));
        if (prover.shortest_after(after, ending.moves - 1, scope)) {
            return false;
        }
        CHECK((prover.stopped() || scope == solve::MateProver::Scope::checks));
    }
    return true;
}

} // namespace

TEST_CASE("long mates that only proof numbers find get certificates that hold") {
    const EndgameTables& tables = shared_tables();
    for (std::size_t i = 0; i < std::size(endings); i += every) {
        const Ending& ending = endings[i];
        INFO(ending.fen);
        const Position at = position(ending.fen);
        const board::Move key = move(at, ending.key);
        REQUIRE(tables.probe(at) ==
                solve::EndgameValue{solve::EndgameValue::Outcome::win, 2 * ending.moves - 1});
        check_holds(at, key, ending.moves, review);
        CHECK(beyond_complete_search(ending));
        const auto longer = write_certificate({at, key, ending.moves + 5}, review); // claims less
        REQUIRE(longer.ok());
        CHECK(check_certificate(*longer)->moves == ending.moves + 5);
    }
}

TEST_CASE("with tables the same, and mates that are as long as published") {
    const EndgameTables& tables = shared_tables();
    for (std::size_t i = 0; i < std::size(endings); i += every) {
        const Ending& ending = endings[i];
        const Position at = position(ending.fen);
        check_holds(at, move(at, ending.key), ending.moves, review, &tables);
        CHECK(write_certificate({at, move(at, ending.key), ending.moves - 1}, review, &tables).error() ==
              CertificateRefusal::no_mate);
    }
    int written = 0;
    for (const auto& [fen_text, moves] : published_distances()) {
        const Position at = position(fen_text);
        INFO(fen_text << ' ' << moves);
        const auto key = quickest(at, tables, moves);
        REQUIRE(key.has_value());
        if (moves <= longest_written) {
            check_holds(at, *key, moves, review, &tables);
            ++written;
        } else {
            CHECK(write_certificate({at, *key, moves}, review, &tables, 1'000).error() ==
                  CertificateRefusal::too_long);
        }
    }
    CHECK(static_cast<std::size_t>(written) >= 20 / every);
    if (every == 1) { // queen against bishop: every reply of the bishop is another position
        const Position queen = position("8/6Q1/8/4b3/3k4/8/8/K7 w - - 0 1");
        CHECK(write_certificate({queen, move(queen, "Qh6"), 17}, review, &tables).error() ==
              CertificateRefusal::too_long);
    }
}
