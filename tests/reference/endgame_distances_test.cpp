// Distances to mate that others published, the longest of nearly every material of up to four men among them.

#ifdef NDEBUG // nearly every table of four men is built for them: minutes in unoptimised builds
#include "board/fen.hpp"
#include "solve/endgame_table.hpp"

#include "catch.hpp"
#include "shared_tables.hpp"

#include <cstdlib>
#include <fstream>
#include <map>
#include <string>
#include <string_view>

namespace {

using Outcome = solve::EndgameValue::Outcome;
using solve::EndgameValue;
using namespace solve::endgame;

board::Position position(std::string_view fen) {
    const board::FenReading reading = board::read_fen(fen);
    REQUIRE(reading.usable);
    const auto made = board::Position::from(reading.setup);
    REQUIRE(made.ok());
    return *made;
}

struct Row {
    std::string fen;
    int moves = 0; ///< negative: of the loser; 0 a draw
    bool longest = false;
};

std::vector<Row> rows() {
    std::ifstream file(SIDELINT_SOURCE_DIR "/tests/reference/data/endgame-distances.epd");
    std::vector<Row> list;
    bool longest = false;
    for (std::string line; std::getline(file, line);) {
        longest = longest || line == "# longest";
        const std::size_t end = line.find(';');
        if (!line.starts_with('#') && end != std::string::npos) {
            list.push_back({line.substr(0, end), std::stoi(line.substr(end + 1)), longest});
        }
    }
    return list;
}

EndgameValue value_of(int moves) {
    if (moves == 0) {
        return {};
    }
    return moves > 0 ? EndgameValue{Outcome::win, 2 * moves - 1} : EndgameValue{Outcome::loss, -2 * moves};
}

Fold fold_of(const board::Position& position) {
    std::array<std::size_t, 2> codes{nobody, nobody};
    std::size_t found = 0;
    for (const board::Square square : position.occupied() & ~position.pieces(board::Role::king)) {
        codes[found++] = code_of(*position.at(square));
    }
    return folds[codes[0]][codes[1]];
}

/// Plies of the longest win in the table with the stronger or the weaker side to move and winning.
int longest_win(const Table& table, board::Color turn) {
    const auto side = static_cast<std::ptrdiff_t>(table.codes.size() / 2);
    const auto begin = table.codes.begin() + (turn == board::Color::white ? 0 : side);
    int longest = 0;
    std::for_each(begin, begin + side,
                  [&](Code code) { longest = wins(code) ? std::max(longest, plies_of(code)) : longest; });
    return longest;
}

struct Longest {
    std::string_view material;
    int stronger; ///< moves of the longest mate given by the stronger side, when it is to move; 0 none
    int weaker;
};

} // namespace

TEST_CASE("endgame distances: published positions, and the longest mates of a material") {
    int compared = 0;
    for (const Row& row : rows()) {
        INFO(row.fen);
        const board::Position shown = position(row.fen);
        CHECK((shared_tables().probe(shown) == value_of(row.moves)));
        if (row.longest) {
            const Fold fold = fold_of(shown);
            const board::Color turn = fold.flipped ? !shown.turn() : shown.turn();
            CHECK(longest_win(shared_tables().table(fold.slot), turn) == 2 * row.moves - 1);
        }
        ++compared;
    }
    CHECK(compared == 48);
}

TEST_CASE("endgame distances: longest mates as handbooks have them") {
    // From memory.
    const Longest known[] = {
        {"kqk", 10, 0},   {"krk", 16, 0},   {"kbk", 0, 0},    {"knk", 0, 0},   {"kpk", 28, 0},
        {"kbbk", 19, 0},  {"kbnk", 33, 0},  {"knnk", 1, 0},   {"kppk", 32, 0}, {"kbpk", 31, 0},
        {"knpk", 27, 0},  {"kqkq", 13, 13}, {"kqkr", 35, 19}, {"kqkb", 17, 0}, {"kqkn", 21, 0},
        {"kqkp", 28, 29}, {"krkr", 19, 19}, {"krkb", 29, 0},  {"krkn", 40, 1}, {"krkp", 26, 43},
        {"kbkb", 1, 1},   {"kbkn", 1, 1},   {"kbkp", 1, 29},  {"knkn", 1, 1},  {"knkp", 7, 29},
        {"kpkp", 33, 33},
    };
    std::map<std::string, std::size_t> numbered;
    for (std::size_t slot = 0; slot < slots; ++slot) {
        numbered[name(materials[slot])] = slot;
    }
    for (const Longest& longest : known) {
        INFO(longest.material);
        const Table& table = shared_tables().table(numbered.at(std::string(longest.material)));
        CHECK(longest_win(table, board::Color::white) == std::max(0, 2 * longest.stronger - 1));
        CHECK(longest_win(table, board::Color::black) == std::max(0, 2 * longest.weaker - 1));
    }
}
#endif
