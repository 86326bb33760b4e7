#include "solve/endgame_conversions.hpp"

#include <utility>

namespace solve::endgame {

using board::Role, board::Square;

namespace {

Square upside_down(Square square) {
    return board::square_at(index(square) ^ 56);
}

} // namespace

Conversions::Conversions(const Material& material, const Source& source) {
    for (std::size_t captured = 0; captured < 2 + material.size; captured += captured == 0 ? 2 : 1) {
        if (captured != 0) {
            add(material, source, {captured});
        }
        for (std::size_t promoted = 2; promoted < 2 + material.size; ++promoted) {
            if (promoted == captured || material.men[promoted - 2].role != Role::pawn) {
                continue;
            }
            for (const Role role : {Role::knight, Role::bishop, Role::rook, Role::queen}) {
                add(material, source, {captured, promoted, role});
            }
        }
    }
}

void Conversions::add(const Material& material, const Source& source, const Change& change) {
    std::array<std::size_t, 2> codes{nobody, nobody};
    Way way;
    std::size_t left = 0;
    for (std::size_t i = 0; i < material.size; ++i) {
        if (i + 2 == change.captured) {
            continue;
        }
        board::Piece man = material.men[i];
        if (i + 2 == change.promoted) {
            man.role = change.role;
        }
        codes[left] = code_of(man);
        way.men[left++] = static_cast<std::uint8_t>(i + 2);
    }
    const Fold& fold = folds[codes[0]][codes[1]];
    if (fold.swapped) {
        std::swap(way.men[0], way.men[1]);
    }
    way.table = &source(fold.slot);
    way.flipped = fold.flipped;
    m_ways[number_of(change)] = way;
}

Code Conversions::after(const Placement& next, const Change& change) const {
    const Way& way = m_ways[number_of(change)];
    Placement placement{{next.at[0], next.at[1], next.at[way.men[0]], next.at[way.men[1]]}, next.turn};
    if (way.flipped) {
        std::swap(placement.at[0], placement.at[1]);
        for (Square& square : placement.at) {
            square = upside_down(square);
        }
        placement.turn = !placement.turn;
    }
    return (*way.table)[placement];
}

} // namespace solve::endgame
