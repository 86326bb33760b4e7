#include "solve/endgame_layout.hpp"

namespace solve::endgame {

using board::Square;

namespace {

constexpr Square turn_once(Square square, Symmetry symmetry) {
    int file = file_of(square);
    int rank = rank_of(square);
    file = (symmetry & 1) != 0 ? 7 - file : file;
    rank = (symmetry & 2) != 0 ? 7 - rank : rank;
    return (symmetry & about_diagonal) != 0 ? board::square_at(rank, file) : board::square_at(file, rank);
}

constexpr std::array<std::array<Square, 64>, 8> list_turned() {
    std::array<std::array<Square, 64>, 8> all{};
    for (std::size_t symmetry = 0; symmetry < 8; ++symmetry) {
        for (int i = 0; i < 64; ++i) {
            all[symmetry][static_cast<std::size_t>(i)] =
                turn_once(board::square_at(i), static_cast<Symmetry>(symmetry));
        }
    }
    return all;
}

/// > 0 above the diagonal a1-h8, 0 on it.
constexpr int above_diagonal(Square square) {
    return rank_of(square) - file_of(square);
}

constexpr Symmetry symmetry_of(Square white, Square black, bool pawns) {
    const int flip_files = file_of(white) > 3 ? 1 : 0;
    if (pawns) {
        return static_cast<Symmetry>(flip_files);
    }
    const int flips = flip_files + (rank_of(white) > 3 ? 2 : 0);
    const int white_above = above_diagonal(turn_once(white, static_cast<Symmetry>(flips)));
    const int black_above = above_diagonal(turn_once(black, static_cast<Symmetry>(flips)));
    const bool transpose = white_above > 0 || (white_above == 0 && black_above > 0);
    return static_cast<Symmetry>(flips + (transpose ? about_diagonal : 0));
}

} // namespace

constinit const std::array<std::array<Square, 64>, 8> turned = list_turned();

KingPairs KingPairs::list(bool pawns) {
    KingPairs all;
    // Twice: the pairs that are in place already get their numbers first.
    for (const bool in_place : {true, false}) {
        for (int i = 0; i < 4096; ++i) {
            const Square white = board::square_at(i / 64);
            const Square black = board::square_at(i % 64);
            const Symmetry symmetry = symmetry_of(white, black, pawns);
            if (distance(white, black) < 2 || (symmetry == 0) != in_place) {
                continue;
            }
            Place& place = all.m_places[static_cast<std::size_t>(i)];
            if (in_place) {
                place.number = static_cast<std::uint16_t>(all.m_size);
                all.m_pairs[all.m_size++] = {
                    white, black, !pawns && above_diagonal(white) == 0 && above_diagonal(black) == 0};
            } else {
                const int turned_pair =
                    index(turn_once(white, symmetry)) * 64 + index(turn_once(black, symmetry));
                place = {all.m_places[static_cast<std::size_t>(turned_pair)].number, symmetry};
            }
        }
    }
    return all;
}

const KingPairs& KingPairs::of(bool pawns) {
    static const KingPairs without_pawns = list(false);
    static const KingPairs with_pawns = list(true);
    return pawns ? with_pawns : without_pawns;
}

Layout::Layout(const Material& material) : m_material(material), m_kings(&KingPairs::of(material.pawns())) {
    for (std::size_t man = material.size; man-- > 0;) {
        const bool pawn = material.men[man].role == board::Role::pawn;
        m_lowest[man] = pawn ? 8 : 0;
        m_extents[man] = pawn ? 48 : 64;
        m_strides[man] = m_each;
        m_each *= m_extents[man];
    }
    m_side = static_cast<Index>(m_kings->size()) * m_each;
}

} // namespace solve::endgame
