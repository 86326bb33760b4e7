#include "board/zobrist.hpp"

namespace board::zobrist {

namespace {

/// Steele, Lea, Flood: "Fast splittable pseudorandom number generators", 2014 (the generator called
/// SplitMix64).
constexpr std::uint64_t next(std::uint64_t& state) {
    state += 0x9e3779b97f4a7c15;
    std::uint64_t word = state;
    word = (word ^ (word >> 30)) * 0xbf58476d1ce4e5b9;
    word = (word ^ (word >> 27)) * 0x94d049bb133111eb;
    return word ^ (word >> 31);
}

constexpr Keys make_keys() {
    Keys made{};
    std::uint64_t state = 2024;
    for (std::size_t man = 0; man < 16; ++man) {
        for (std::uint64_t& key : made.men[man]) {
            key = next(state);
        }
    }
    for (std::size_t right = 1; right < 16; right *= 2) {
        const std::uint64_t key = next(state);
        for (std::size_t bits = 0; bits < 16; ++bits) {
            made.castling[bits] ^= (bits & right) != 0 ? key : 0;
        }
    }
    for (std::size_t file = 0; file < 8; ++file) {
        made.en_passant[file] = next(state);
    }
    made.black_to_move = next(state);
    return made;
}

} // namespace

constexpr Keys keys = make_keys();

} // namespace board::zobrist
