#include "board/move.hpp"

namespace board {

std::string write_coordinate(Move move) {
    std::string text = name(move.from()) + name(move.to());
    if (move.is_promotion()) {
        text += letter({Color::black, move.promotes_to()});
    }
    return text;
}

} // namespace board
