#pragma once
// The smaller or earlier tables that captures and promotions lead into.

#include "solve/endgame_table.hpp"

namespace solve::endgame {

/// What a move changed about the material. Men are numbered as in a Placement: 2 the first, 3 the second; 0
/// none.
struct Change {
    std::size_t captured = 0;
    std::size_t promoted = 0;
    board::Role role = board::Role::queen; ///< of the promoted man
};

class Conversions {
  public:
    Conversions(const Material& material, const Source& source);

    /// Value after a capture or a promotion. `next` has the men on their new squares and the side to move
    /// then; the captured man's square is not looked at.
    [[nodiscard]] Code after(const Placement& next, const Change& change) const;

  private:
    struct Way {
        const Table* table = nullptr;
        bool flipped = false;
        std::array<std::uint8_t, 2> men{2, 3}; ///< numbers here of the table's men
    };
    static std::size_t number_of(const Change& change) {
        return (change.captured * 4 + change.promoted) * 5 + index(change.role);
    }
    void add(const Material& material, const Source& source, const Change& change);

    std::array<Way, 80> m_ways{};
};

} // namespace solve::endgame
