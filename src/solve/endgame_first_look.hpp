#pragma once
// What can be said of a position before anything else of its own table is known: is it possible, is it mate,
// where do its captures and promotions lead.

#include "board/attacks.hpp"
#include "solve/endgame_conversions.hpp"

#include <optional>

namespace solve::endgame {

/// Squares that a man other than a pawn attacks.
[[nodiscard]] inline board::Bitboard reach(board::Role role, board::Square from, board::Bitboard occupied) {
    switch (role) {
    case board::Role::knight:
        return board::knight_attacks(from);
    case board::Role::bishop:
        return board::bishop_attacks(from, occupied);
    case board::Role::rook:
        return board::rook_attacks(from, occupied);
    case board::Role::queen:
        return board::queen_attacks(from, occupied);
    default:
        return board::king_attacks(from);
    }
}

struct FirstLook {
    static constexpr std::uint8_t never = 255;
    Code code = drawn; ///< impossible, mate on the board, or drawn as long as nothing better is known
    Code event =
        drawn; ///< value if the best capture or promotion decides alone; a loss only settles these moves
    std::uint8_t open =
        0; ///< moves that must be found lost before the position is; `never` when one draws or wins
    std::uint8_t double_step = 0; ///< number of a pawn that has one
};

class Examiner {
  public:
    Examiner(const Material& material, const Source& source);

    [[nodiscard]] FirstLook look(const Placement& placement) const;
    /// Man `number` has made a double step to where it stands: what that is worth for its side, a loss or a
    /// draw, if it is taken in passing. Nothing when it cannot be. Whoever takes so has a pawn against a bare
    /// king and cannot lose.
    [[nodiscard]] std::optional<Code> taken_in_passing(const Placement& after, std::size_t number) const;

    [[nodiscard]] std::size_t men() const { return 2 + m_material.size; }
    [[nodiscard]] board::Piece man(std::size_t number) const { return m_men[number]; }

  private:
    struct Scene;
    struct Tally;
    [[nodiscard]] std::optional<Scene> scene(const Placement& placement) const;
    [[nodiscard]] board::Bitboard allowed(const Scene& scene, std::size_t number) const;
    void king(const Scene& scene, Tally& tally) const;
    void officer(const Scene& scene, std::size_t number, Tally& tally) const;
    void pawn(const Scene& scene, std::size_t number, Tally& tally) const;
    void promotions(const Scene& scene, std::size_t number, std::size_t captured, board::Square to,
                    Tally& tally) const;
    void convert(const Scene& scene, std::size_t number, board::Square to, const Change& change,
                 Tally& tally) const;

    Material m_material;
    std::array<board::Piece, 4> m_men;
    Conversions m_conversions;
};

} // namespace solve::endgame
