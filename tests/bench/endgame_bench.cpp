// How long a table takes to build, and a question once it is there. Counter `probes` is probes a second.

#include "board/fen.hpp"
#include "solve/endgame_build.hpp"
#include "solve/endgame_tables.hpp"

#include <benchmark/benchmark.h>

#include <random>
#include <string_view>
#include <vector>

namespace {

using namespace solve;
using namespace solve::endgame;

const EndgameTables& shared_tables() {
    static const EndgameTables tables(std::nullopt);
    return tables;
}

/// The table alone: those it leads into are there before.
void built(benchmark::State& state, std::string_view material) {
    std::size_t slot = 0;
    while (name(materials[slot]) != material) {
        ++slot;
    }
    static_cast<void>(shared_tables().table(slot));
    const Source source = [](std::size_t other) -> const Table& { return shared_tables().table(other); };
    for (auto _ : state) {
        benchmark::DoNotOptimize(build(materials[slot], source).codes.data());
    }
}

/// Legal positions of the men, drawn at random: most questions miss the processor's caches.
std::vector<board::Position> drawn(std::string_view letters, std::size_t wanted) {
    std::mt19937_64 random(1);
    std::vector<board::Position> positions;
    while (positions.size() < wanted) {
        board::Setup setup;
        for (const char letter : letters) {
            setup.put(board::square_at(static_cast<int>(random() % 64)), board::read_piece(letter).value());
        }
        setup.turn = random() % 2 == 0 ? board::Color::white : board::Color::black;
        const auto made = board::Position::from(setup);
        if (made.ok() && made->occupied().count() == static_cast<int>(letters.size())) {
            positions.push_back(*made);
        }
    }
    return positions;
}

void probed(benchmark::State& state, std::string_view letters) {
    const std::vector<board::Position> positions = drawn(letters, 4096);
    static_cast<void>(shared_tables().probe(positions.front()));
    std::size_t at = 0;
    for (auto _ : state) {
        benchmark::DoNotOptimize(shared_tables().probe(positions[at++ % positions.size()]));
    }
    state.counters["probes"] =
        benchmark::Counter(static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}

void refused(benchmark::State& state) {
    const board::Position position;
    for (auto _ : state) {
        benchmark::DoNotOptimize(shared_tables().probe(position));
    }
}

BENCHMARK_CAPTURE(built, kqkr, "kqkr")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(built, kpk, "kpk")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(built, kpkp, "kpkp")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(probed, kqkr, "KQkr");
BENCHMARK_CAPTURE(probed, kpk, "KPk");
BENCHMARK_CAPTURE(probed, kpkp, "KPkp");
BENCHMARK(refused);

} // namespace

BENCHMARK_MAIN();
