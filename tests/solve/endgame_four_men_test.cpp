// Tables of four men: each value is the best of its moves' values, whatever the side, the square and the
// colour.

#include "endgame_positions.hpp"
#include "shared_tables.hpp"
#include "solve/endgame_build.hpp"

#include <chrono>
#include <thread>

namespace {

using namespace endgame_test;
using board::Color, board::Position, board::Role, board::Square;

Comparison sampled(const solve::EndgameTables& tables, std::string_view letters, int wanted) {
    std::mt19937_64 random(20240229);
    Comparison comparison(tables);
    while (comparison.seen() < wanted) {
        if (const auto position = draw(random, men(letters))) {
            comparison.look(*position);
        }
    }
    return comparison;
}

Position turned_around(const Position& position) {
    const board::Setup setup = position.setup();
    board::Setup other;
    for (int i = 0; i < 64; ++i) {
        if (const auto man = setup.at(board::square_at(i))) {
            other.put(board::square_at(i ^ 56), {!man->color, man->role});
        }
    }
    other.turn = !setup.turn;
    if (setup.en_passant) {
        other.en_passant = board::square_at(index(*setup.en_passant) ^ 56);
    }
    return board::Position::from(other).value();
}

/// Calls `visit` with every position of two pawns of which the one on `from` has just made a double step, or
/// is about to, and can be taken in passing then.
template <class Visit> void each_passing(bool stepped, Visit visit) {
    for (int i = 0; i < 64 * 64 * 8 * 2; ++i) {
        const int file = (i / 4096) % 8;
        const int beside = i / 32768 == 0 ? file - 1 : file + 1;
        if (beside < 0 || beside > 7) {
            continue;
        }
        board::Setup setup;
        const Square pawn = board::square_at(file, stepped ? 3 : 1);
        const Square taker = board::square_at(beside, 3);
        const Square white = board::square_at(i % 64);
        const Square black = board::square_at((i / 64) % 64);
        const board::Bitboard kings = board::Bitboard(white) | black;
        if (kings.count() < 2 || (kings & (board::Bitboard(pawn) | taker)).any()) {
            continue;
        }
        setup.put(white, {Color::white, Role::king});
        setup.put(black, {Color::black, Role::king});
        setup.put(pawn, {Color::white, Role::pawn});
        setup.put(taker, {Color::black, Role::pawn});
        setup.turn = stepped ? Color::black : Color::white;
        if (stepped) {
            setup.en_passant = board::square_at(file, 2);
        }
        const auto made = Position::from(setup);
        if (made.ok() && (!stepped || made->en_passant())) {
            visit(*made);
        }
    }
}

} // namespace

TEST_CASE("endgame tables: a random sample is consistent") {
    for (const std::string_view letters : {"KQkr", "KRkb", "KNkn", "KQkp", "KRkp", "KPkp", "KBkp", "KBNk"}) {
        INFO(letters);
        const Comparison comparison = sampled(shared_tables(), letters, 8'000);
        CHECK(comparison.wrong() == 0);
        CHECK((letters == "KNkn" || comparison.won() > 0));
    }
}

TEST_CASE("endgame tables: pawns taken in passing, and double steps that allow it") {
    int changed = 0;
    for (const bool stepped : {false, true}) {
        Comparison comparison(shared_tables());
        each_passing(stepped, [&](const Position& position) {
            comparison.look(position);
            comparison.look(turned_around(position));
            board::Setup without = position.setup();
            without.en_passant.reset();
            changed +=
                shared_tables().probe(Position::from(without).value()) != shared_tables().probe(position);
        });
        CHECK(comparison.wrong() == 0);
        CHECK(comparison.seen() > 50'000);
        CHECK(comparison.won() > 10'000);
    }
    CHECK(changed > 1'000); // the right to take matters in many of them
}

TEST_CASE("endgame tables: colours and sides of the board are alike") {
    std::mt19937_64 random(7);
    for (const std::string_view letters : {"KQkr", "KPkp", "KRkp", "KBNk", "KPk", "Kk"}) {
        int wrong = 0;
        for (int seen = 0; seen < 2'000;) {
            if (const auto position = draw(random, men(letters))) {
                ++seen;
                wrong += shared_tables().probe(*position) == shared_tables().probe(turned_around(*position))
                             ? 0
                             : 1;
            }
        }
        INFO(letters);
        CHECK(wrong == 0);
    }
}

TEST_CASE("endgame tables: mated, stalemated, bare kings, and what no table holds") {
    const solve::EndgameTables& tables = shared_tables();
    CHECK(tables.probe(position("k7/1Q6/1K6/8/8/8/8/8 b - - 0 1")) == Value{Outcome::loss, 0});
    CHECK(tables.probe(position("k7/8/1Q6/8/8/8/8/7K b - - 0 1")) == Value{Outcome::draw, 0});
    CHECK(tables.probe(position("8/8/8/3k4/8/8/8/7K b - - 0 1")) == Value{Outcome::draw, 0});
    CHECK(tables.probe(position("K7/8/1k6/8/8/8/7q/8 b - - 99 1")) == Value{Outcome::win, 1});
    CHECK_FALSE(tables.probe(position("4k3/8/8/8/8/8/8/4K2R w K - 0 1")));
    CHECK(tables.probe(position("4k3/8/8/8/8/8/8/4K2R w - - 0 1")));
    CHECK_FALSE(tables.probe(position("4k3/4r3/8/8/8/8/8/4KB1R w - - 0 1")));
    CHECK_FALSE(tables.probe(Position()));
}

TEST_CASE("endgame tables: the same answers in any order and from several threads") {
    std::mt19937_64 random(11);
    std::vector<Position> positions;
    while (positions.size() < 4'000) {
        const auto letters = std::array<std::string_view, 4>{"KRkn", "KRk", "KBkn", "KRkb"}[random() % 4];
        if (const auto drawn = draw(random, men(letters))) {
            positions.push_back(*drawn);
        }
    }
    const solve::EndgameTables tables(std::nullopt);
    std::array<std::vector<std::optional<Value>>, 4> answers;
    std::vector<std::jthread> threads;
    for (std::size_t t = 0; t < answers.size(); ++t) {
        threads.emplace_back([&, t] {
            answers[t].resize(positions.size());
            for (std::size_t i = 0; i < positions.size(); ++i) {
                const std::size_t at = (i + t * positions.size() / answers.size()) % positions.size();
                answers[t][at] = tables.probe(positions[at]);
            }
        });
    }
    threads.clear();
    int wrong = 0;
    for (std::size_t i = 0; i < positions.size(); ++i) {
        for (const auto& given : answers) {
            wrong += given[i] == shared_tables().probe(positions[i]) ? 0 : 1;
        }
    }
    CHECK(wrong == 0);
}

TEST_CASE("endgame tables: all of them, with the time each takes", "[.all-tables]") {
    const solve::EndgameTables& tables = shared_tables();
    double total = 0;
    for (std::size_t slot = 0; slot < solve::endgame::slots; ++slot) {
        const solve::endgame::Material& material = solve::endgame::materials[slot];
        const std::string name = solve::endgame::name(material);
        const auto& codes = tables.table(slot).codes; // those it leads into are there then
        const auto start = std::chrono::steady_clock::now();
        const solve::endgame::Table again = solve::endgame::build(
            material, [&](std::size_t other) -> const solve::endgame::Table& { return tables.table(other); });
        const double seconds =
            std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        total += seconds;
        CHECK((again.codes == codes));
        std::string letters = "K";
        std::string black = "k";
        for (std::size_t i = 0; i < material.size; ++i) {
            (material.men[i].color == Color::white ? letters : black) += board::letter(material.men[i]);
        }
        const Comparison comparison = sampled(tables, letters + black, 30'000);
        WARN(name << ": " << seconds << " s, " << comparison.seen() << " positions compared");
        CHECK(comparison.wrong() == 0);
    }
    WARN("all: " << total << " s");
}
