#include "board/attacks.hpp"

namespace board {

namespace detail {

namespace {

struct Step {
    int files;
    int ranks;
};

constexpr std::array<Step, 8> king_steps{
    {{0, 1}, {1, 1}, {1, 0}, {1, -1}, {0, -1}, {-1, -1}, {-1, 0}, {-1, 1}}};
constexpr std::array<Step, 8> knight_leaps{
    {{1, 2}, {2, 1}, {2, -1}, {1, -2}, {-1, -2}, {-2, -1}, {-2, 1}, {-1, 2}}};

/// The square `count` steps away, or no squares beyond the edge.
constexpr Bitboard shifted(int from, Step step, int count = 1) {
    const int file = file_of(square_at(from)) + step.files * count;
    const int rank = rank_of(square_at(from)) + step.ranks * count;
    return file >= 0 && file < 8 && rank >= 0 && rank < 8 ? Bitboard(square_at(file, rank)) : Bitboard();
}

/// Squares in one direction up to and including the first occupied one.
constexpr Bitboard ray(int from, Step step, Bitboard occupied = {}) {
    Bitboard squares;
    for (int count = 1;; ++count) {
        const Bitboard next = shifted(from, step, count);
        squares |= next;
        if (next.empty() || (next & occupied).any()) {
            return squares;
        }
    }
}

constexpr Bitboard both_rays(int from, Step step, Bitboard occupied = {}) {
    return ray(from, step, occupied) | ray(from, {-step.files, -step.ranks}, occupied);
}

constexpr auto make_lines() {
    std::array<Lines, 64> table{};
    for (int from = 0; from < 64; ++from) {
        table[static_cast<std::size_t>(from)] = {both_rays(from, {1, 1}), both_rays(from, {1, -1}),
                                                 both_rays(from, {1, 0}), both_rays(from, {0, 1})};
    }
    return table;
}

constexpr auto make_leaper(const std::array<Step, 8>& steps) {
    std::array<Bitboard, 64> table{};
    for (int from = 0; from < 64; ++from) {
        for (const Step step : steps) {
            table[static_cast<std::size_t>(from)] |= shifted(from, step);
        }
    }
    return table;
}

constexpr auto make_pawns() {
    std::array<std::array<Bitboard, 64>, 2> table{};
    for (int from = 0; from < 64; ++from) {
        table[0][static_cast<std::size_t>(from)] = shifted(from, {-1, 1}) | shifted(from, {1, 1});
        table[1][static_cast<std::size_t>(from)] = shifted(from, {-1, -1}) | shifted(from, {1, -1});
    }
    return table;
}

constexpr auto make_rank_reach() {
    std::array<std::array<Bitboard, 64>, 8> table{};
    for (int file = 0; file < 8; ++file) {
        for (std::size_t inner = 0; inner < 64; ++inner) {
            const Bitboard row = both_rays(file, {1, 0}, Bitboard(inner << 1));
            table[static_cast<std::size_t>(file)][inner] = Bitboard(row.bits() * file_bits(0).bits());
        }
    }
    return table;
}

constexpr auto make_file_reach() {
    std::array<std::array<Bitboard, 64>, 8> table{};
    for (int rank = 0; rank < 8; ++rank) {
        for (std::size_t inner = 0; inner < 64; ++inner) {
            Bitboard occupied;
            for (int bit = 0; bit < 6; ++bit) {
                if ((inner >> bit & 1) != 0) {
                    occupied |= square_at(0, bit + 1);
                }
            }
            table[static_cast<std::size_t>(rank)][inner] = both_rays(rank * 8, {0, 1}, occupied);
        }
    }
    return table;
}

template <bool whole> constexpr auto make_pairs() {
    std::array<std::array<Bitboard, 64>, 64> table{};
    for (int from = 0; from < 64; ++from) {
        for (const Step step : king_steps) {
            Bitboard passed;
            for (int count = 1; shifted(from, step, count).any(); ++count) {
                const Bitboard target = shifted(from, step, count);
                const auto a = static_cast<std::size_t>(from);
                const auto b = static_cast<std::size_t>(index(target.first()));
                table[a][b] = whole ? both_rays(from, step) | square_at(from) : passed;
                passed |= target;
            }
        }
    }
    return table;
}

} // namespace

constexpr std::array<Lines, 64> lines = make_lines();
constexpr std::array<Bitboard, 64> king_table = make_leaper(king_steps);
constexpr std::array<Bitboard, 64> knight_table = make_leaper(knight_leaps);
constexpr std::array<std::array<Bitboard, 64>, 2> pawn_table = make_pawns();
constexpr std::array<std::array<Bitboard, 64>, 8> rank_reach = make_rank_reach();
constexpr std::array<std::array<Bitboard, 64>, 8> file_reach = make_file_reach();
constexpr std::array<std::array<Bitboard, 64>, 64> between_table = make_pairs<false>();
constexpr std::array<std::array<Bitboard, 64>, 64> line_table = make_pairs<true>();

} // namespace detail

Bitboard attacks(Piece piece, Square from, Bitboard occupied) {
    switch (piece.role) {
    case Role::pawn:
        return pawn_attacks(piece.color, from);
    case Role::knight:
        return knight_attacks(from);
    case Role::bishop:
        return bishop_attacks(from, occupied);
    case Role::rook:
        return rook_attacks(from, occupied);
    case Role::queen:
        return queen_attacks(from, occupied);
    case Role::king:
        return king_attacks(from);
    }
    return {};
}

} // namespace board
