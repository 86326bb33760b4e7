#pragma once
// Where in its table a position stands. Without pawns the board's eight symmetries bring White's king into
// the triangle a1-d1-d4, with pawns only left and right are alike and his king comes to the files a to d.

#include "solve/endgame_material.hpp"

#include <array>
#include <cstdint>
#include <vector>

namespace solve::endgame {

using Index = std::uint32_t;

/// The men of a position in the order of its table: White's king, Black's king, first man, second man. Men
/// that the material does not have stand anywhere.
struct Placement {
    std::array<board::Square, 4> at{};
    board::Color turn = board::Color::white;
};

/// Number of a symmetry: 1 left and right, 2 top and bottom, 4 about the diagonal a1-h8, carried out in this
/// order.
using Symmetry = std::uint8_t;
inline constexpr Symmetry about_diagonal = 4;
extern const std::array<std::array<board::Square, 64>, 8> turned;
[[nodiscard]] inline board::Square turn(board::Square square, Symmetry symmetry) {
    return turned[symmetry][static_cast<std::size_t>(index(square))];
}

/// Two kings as the table sees them.
struct Kings {
    board::Square white = board::Square::a1;
    board::Square black = board::Square::a1;
    /// Both stand on the diagonal a1-h8, so the table holds each placement of the others and its mirror
    /// image.
    bool on_diagonal = false;
};

/// All pairs of kings that do not touch, told apart up to symmetry.
class KingPairs {
  public:
    struct Place {
        std::uint16_t number = none; ///< of the pair
        Symmetry symmetry = 0;       ///< brings the kings to where the table has them
    };
    static constexpr std::uint16_t none = 0xffff; ///< the kings touch

    /// `size` is 462 without pawns, 1806 with pawns.
    [[nodiscard]] std::size_t size() const { return m_size; }
    [[nodiscard]] Place place(board::Square white, board::Square black) const {
        return m_places[static_cast<std::size_t>(index(white)) * 64 + static_cast<std::size_t>(index(black))];
    }
    [[nodiscard]] const Kings& operator[](std::size_t number) const { return m_pairs[number]; }

    [[nodiscard]] static const KingPairs& of(bool pawns);

  private:
    static constexpr std::size_t most = 1806;
    static KingPairs list(bool pawns);
    std::array<Place, 4096> m_places{};
    std::array<Kings, most> m_pairs{};
    std::size_t m_size = 0;
};

/// The order of entries in a table: side to move, kings, first man, second man.
class Layout {
  public:
    explicit Layout(const Material& material);

    [[nodiscard]] const Material& material() const { return m_material; }
    [[nodiscard]] const KingPairs& kings() const { return *m_kings; }
    [[nodiscard]] Index size() const { return 2 * m_side; }
    /// Distance between the entries of two neighbouring squares of man 0 or 1.
    [[nodiscard]] Index stride(std::size_t man) const { return m_strides[man]; }

    /// Where the men stand for a table position whose kings are in place already.
    [[nodiscard]] Index at(board::Color turn, std::size_t pair, board::Square first,
                           board::Square second) const {
        return static_cast<Index>(index(turn)) * m_side + static_cast<Index>(pair) * m_each + on(first, 0) +
               on(second, 1);
    }
    /// Where any legal position stands. The kings must not touch.
    [[nodiscard]] Index at(const Placement& placement) const {
        const KingPairs::Place place = m_kings->place(placement.at[0], placement.at[1]);
        return at(placement.turn, place.number, endgame::turn(placement.at[2], place.symmetry),
                  endgame::turn(placement.at[3], place.symmetry));
    }
    struct Entry {
        Placement placement;
        std::size_t pair; ///< number of the kings
    };
    [[nodiscard]] Entry entry(Index index) const {
        const bool black = index >= m_side;
        const Index on_side = black ? index - m_side : index;
        const Index without_second = divided(on_side, m_extents[1]);
        const Index pair = divided(without_second, m_extents[0]);
        const auto square = [this](Index number, std::size_t man) {
            return board::square_at(static_cast<int>(number + m_lowest[man]));
        };
        const Kings& kings = (*m_kings)[pair];
        return {{{kings.white, kings.black, square(without_second - pair * m_extents[0], 0),
                  square(on_side - without_second * m_extents[1], 1)},
                 black ? board::Color::black : board::Color::white},
                pair};
    }

  private:
    /// A division by a constant is several times faster than any other.
    static constexpr Index divided(Index number, Index extent) {
        return extent == 64 ? number / 64 : extent == 48 ? number / 48 : number;
    }
    [[nodiscard]] Index on(board::Square square, std::size_t man) const {
        return (static_cast<Index>(index(square)) - m_lowest[man]) * m_strides[man];
    }
    Material m_material;
    const KingPairs* m_kings;
    std::array<Index, 2> m_lowest{}; ///< first square a man can stand on
    std::array<Index, 2> m_extents{1, 1};
    std::array<Index, 2> m_strides{}; ///< 0 for a man that is not there
    Index m_each = 1;                 ///< entries a pair of kings
    Index m_side = 1;                 ///< entries a side to move
};

} // namespace solve::endgame
