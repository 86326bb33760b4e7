// How fast positions are made, taken back, listed and written. Counter `leaves` is leaves (or moves) a
// second.

#include "board/fen.hpp"
#include "board/perft.hpp"
#include "board/san.hpp"

#include <benchmark/benchmark.h>

namespace {

using namespace board;

constexpr std::string_view initial = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
/// P. McKenzie's test position, rich in castling, pins and en passant.
constexpr std::string_view rich = "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1";

Position position(std::string_view fen) {
    return Position::from(read_fen(fen).setup).value();
}

void set_rate(benchmark::State& state, std::uint64_t leaves) {
    state.counters["leaves"] = benchmark::Counter(static_cast<double>(leaves), benchmark::Counter::kIsRate);
}

void counted(benchmark::State& state, std::string_view fen, int depth) {
    Position current = position(fen);
    std::uint64_t leaves = 0;
    for (auto _ : state) {
        leaves += perft(current, depth);
    }
    set_rate(state, leaves);
}

void made(benchmark::State& state, std::string_view fen, int depth) {
    Position current = position(fen);
    std::uint64_t leaves = 0;
    for (auto _ : state) {
        leaves += perft_made(current, depth);
    }
    set_rate(state, leaves);
}

void listed(benchmark::State& state) {
    const Position current = position(rich);
    std::uint64_t moves = 0;
    for (auto _ : state) {
        moves += current.legal_moves().size();
    }
    set_rate(state, moves);
}

void san_written_and_read(benchmark::State& state) {
    const Position current = position(rich);
    std::uint64_t moves = 0;
    for (auto _ : state) {
        for (const Move move : current.legal_moves()) {
            const auto read = read_san(write_san(current, move));
            moves += resolve(current, *read).ok() ? 1 : 0;
        }
    }
    set_rate(state, moves);
}

void san_resolved(benchmark::State& state) {
    const Position current = position(rich);
    std::uint64_t moves = 0;
    for (auto _ : state) {
        moves += resolve(current, *read_san("Nxf7")).ok() ? 1 : 0;
    }
    set_rate(state, moves);
}

void fen_read(benchmark::State& state) {
    std::uint64_t read = 0;
    for (auto _ : state) {
        read += Position::from(read_fen(rich).setup).ok() ? 1 : 0;
    }
    set_rate(state, read);
}

BENCHMARK_CAPTURE(counted, initial_depth_6, initial, 6)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(counted, rich_depth_5, rich, 5)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(made, initial_depth_5, initial, 5)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(made, rich_depth_5, rich, 5)->Unit(benchmark::kMillisecond);
BENCHMARK(listed);
BENCHMARK(san_written_and_read);
BENCHMARK(san_resolved);
BENCHMARK(fen_read);

} // namespace

BENCHMARK_MAIN();
