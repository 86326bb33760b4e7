#include "solve/endgame_material.hpp"

namespace solve::endgame {

std::string name(const Material& material) {
    std::string text;
    for (const board::Color side : {board::Color::white, board::Color::black}) {
        text += 'k';
        for (std::size_t i = 0; i < material.size; ++i) {
            if (material.men[i].color == side) {
                text += board::letter({board::Color::black, material.men[i].role});
            }
        }
    }
    return text;
}

} // namespace solve::endgame
