// Published leaf counts of the legal move tree. A wrong rule anywhere in the move generator shows here.

#include "board/perft.hpp"
#include "from_text.hpp"

#include <charconv>
#include <fstream>
#include <string>
#include <vector>

using from_text::position;

namespace {

#ifdef NDEBUG
constexpr bool slow_build = false;
#else
constexpr bool slow_build = true; // without optimisation or under sanitizers: some fifty times slower
#endif
constexpr std::uint64_t most_leaves_a_count = slow_build ? 30'000 : 2'000'000;

/// Counts a file must have held up to; most have too many leaves for a slow build.
constexpr int at_least(int counts) {
    return slow_build ? counts / 20 : counts;
}

struct Count {
    int depth = 0;
    std::uint64_t leaves = 0;
};

/// " D4 12345"
Count read_count(std::string_view text) {
    Count count;
    text.remove_prefix(std::min(text.find('D') + 1, text.size()));
    const char* end = text.data() + text.size();
    const auto depth = std::from_chars(text.data(), end, count.depth);
    REQUIRE(depth.ec == std::errc());
    REQUIRE(depth.ptr != end);
    REQUIRE(std::from_chars(depth.ptr + 1, end, count.leaves).ec == std::errc());
    return count;
}

/// Holds every line of a file against the move generator; the number of counts compared.
int compare(const std::string& file, board::Start start = board::Start::orthodox) {
    std::ifstream lines(std::string(SIDELINT_SOURCE_DIR) + "/tests/reference/data/" + file);
    REQUIRE(lines);
    int compared = 0;
    for (std::string line; std::getline(lines, line);) {
        if (line.empty() || line[0] == '#') {
            continue;
        }
        INFO(line);
        board::Position current = position(std::string_view(line).substr(0, line.find(';')), start);
        for (std::size_t at = line.find(';'); at != std::string::npos; at = line.find(';', at + 1)) {
            const std::size_t end = line.find(';', at + 1);
            const Count count = read_count(std::string_view(line).substr(at + 1, end - at - 1));
            if (count.leaves <= most_leaves_a_count) {
                CHECK(board::perft(current, count.depth) == count.leaves);
                ++compared;
            }
        }
    }
    return compared;
}

struct Published {
    std::string_view fen;
    std::vector<std::uint64_t> leaves; ///< at depth 1, 2, ...
};

} // namespace

// The six positions that pages of perft results give throughout; the second is by P. McKenzie, the last by
// S. Edwards. Their counts are common knowledge among programmers and the same on all those pages.
TEST_CASE("perft of the six standard positions", "[perft]") {
    const std::vector<Published> positions{
        {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
         {20, 400, 8902, 197281, 4865609, 119060324}},
        {"r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1",
         {48, 2039, 97862, 4085603, 193690690}},
        {"8/2p5/3p4/KP5r/1R3p1k/8/4P1P1/8 w - - 0 1", {14, 191, 2812, 43238, 674624, 11030083}},
        {"r3k2r/Pppp1ppp/1b3nbN/nP6/BBP1P3/q4N2/Pp1P2PP/R2Q1RK1 w kq - 0 1",
         {6, 264, 9467, 422333, 15833292}},
        {"rnbq1k1r/pp1Pbppp/2p5/8/2B5/8/PPP1NnPP/RNBQK2R w KQ - 1 8", {44, 1486, 62379, 2103487, 89941194}},
        {"r4rk1/1pp1qppp/p1np1n2/2b1p1B1/2B1P1b1/P1NP1N2/1PP1QPPP/R4RK1 w - - 0 10",
         {46, 2079, 89890, 3894594, 164075551}},
    };
    for (const Published& published : positions) {
        INFO(published.fen);
        board::Position current = position(published.fen);
        for (std::size_t i = 0; i < published.leaves.size(); ++i) {
            if (published.leaves[i] <= 100 * most_leaves_a_count) {
                CHECK(board::perft(current, static_cast<int>(i) + 1) == published.leaves[i]);
            }
        }
        CHECK(board::perft_made(current, 3) == published.leaves[2]);
    }
}

TEST_CASE("perft of small positions, one rule each", "[perft]") {
    CHECK(compare("perft-basic.epd") > at_least(500));
}

TEST_CASE("perft of positions with double checks", "[perft]") {
    CHECK(compare("perft-double-checks.epd") > at_least(100));
}

TEST_CASE("perft of positions with en passant", "[perft]") {
    CHECK(compare("perft-en-passant.epd") > at_least(50));
}

TEST_CASE("perft of positions of Chess960", "[perft]") {
    CHECK(compare("perft-shuffled.epd", board::Start::shuffled) > at_least(80));
}

TEST_CASE("perft of random positions", "[perft]") {
    CHECK(compare("perft-random.epd") > at_least(1500));
}
