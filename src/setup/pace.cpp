// How many moves a placement takes at least.

#include "setup/diagram.hpp"
#include "setup/legality.hpp"

#include <algorithm>

namespace setup {

using board::Color;
using board::Role;

int fewest_moves(const board::Setup& diagram, Color color) {
    if (diagram.home.is_shuffled()) {
        return 0;
    }
    int moves = 0;
    for (const board::Square pawn : diagram.pieces(color, Role::pawn)) {
        const int steps = relative_rank(color, pawn) - 1;
        moves += steps > 1 ? steps - 1 : steps; // the first two at once
    }
    for (const Role role : {Role::knight, Role::bishop, Role::rook, Role::queen, Role::king}) {
        moves += (diagram.pieces(color, role) & ~homes(color, role)).count();
    }
    const bool may_have_castled = (diagram.pieces(color, Role::king) & ~homes(color, Role::king)).any() &&
                                  (diagram.pieces(color, Role::rook) & ~homes(color, Role::rook)).any();
    return may_have_castled ? moves - 1 : moves;
}

} // namespace setup
