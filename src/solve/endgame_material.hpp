#pragma once
// The materials that have a table: up to two men beside the kings, the stronger side always White.

#include "board/square.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>

namespace solve::endgame {

/// The men beside the kings, as many as `size` says. The first is White's; where both sides have one, White's
/// is at least as strong, and of two on one side the stronger is named first.
struct Material {
    std::array<board::Piece, 2> men{};
    std::size_t size = 0;

    [[nodiscard]] constexpr bool pawns() const {
        for (std::size_t i = 0; i < size; ++i) {
            if (men[i].role == board::Role::pawn) {
                return true;
            }
        }
        return false;
    }
    friend constexpr bool operator==(const Material&, const Material&) = default;
};

/// "kqkr": White's men, then Black's.
[[nodiscard]] std::string name(const Material& material);

/// Bare kings, five with one man, fifteen with two men of one side, fifteen with a man each.
inline constexpr std::size_t slots = 36;

namespace detail {

constexpr std::array<Material, slots> list_materials() {
    using board::Color, board::Piece;
    std::array<Material, slots> all{};
    std::size_t n = 1;
    for (std::size_t strong = 0; strong < 5; ++strong) {
        all[n++] = {{Piece{Color::white, board::all_roles[strong]}, Piece{}}, 1};
    }
    for (const Color second : {Color::white, Color::black}) {
        for (std::size_t strong = 0; strong < 5; ++strong) {
            for (std::size_t weak = 0; weak <= strong; ++weak) {
                all[n++] = {
                    {Piece{Color::white, board::all_roles[strong]}, Piece{second, board::all_roles[weak]}},
                    2};
            }
        }
    }
    return all;
}

} // namespace detail

inline constexpr std::array<Material, slots> materials = detail::list_materials();

/// Which table holds men given in any order and colours, and how to read it.
struct Fold {
    std::uint8_t slot = 0;
    bool flipped = false; ///< Black is the stronger side: change the colours and turn the board around
    bool swapped = false; ///< the table's first man is the second one given
};

/// A man other than a king as a number below ten.
constexpr std::size_t code_of(board::Piece man) {
    return 5 * index(man.color) + index(man.role);
}
inline constexpr std::size_t nobody = 10;

namespace detail {

constexpr Fold fold(std::size_t first, std::size_t second) {
    using board::Color, board::Piece;
    const auto man = [](std::size_t code) {
        return Piece{static_cast<Color>(code / 5), board::all_roles[code % 5]};
    };
    const Material wanted{{first == nobody ? Piece{} : man(first), second == nobody ? Piece{} : man(second)},
                          std::size_t{first != nobody} + std::size_t{second != nobody}};
    for (const bool flipped : {false, true}) {
        for (const bool swapped : {false, true}) {
            Material turned = wanted;
            for (std::size_t i = 0; i < wanted.size; ++i) {
                turned.men[i] = wanted.men[swapped ? wanted.size - 1 - i : i];
                turned.men[i].color = flipped ? !turned.men[i].color : turned.men[i].color;
            }
            for (std::size_t slot = 0; slot < slots; ++slot) {
                if (materials[slot] == turned) {
                    return {static_cast<std::uint8_t>(slot), flipped, swapped};
                }
            }
        }
    }
    return {};
}

constexpr std::array<std::array<Fold, 11>, 11> list_folds() {
    std::array<std::array<Fold, 11>, 11> all{};
    for (std::size_t first = 0; first <= nobody; ++first) {
        for (std::size_t second = 0; second <= nobody; ++second) {
            if (first != nobody || second == nobody) {
                all[first][second] = fold(first, second);
            }
        }
    }
    return all;
}

} // namespace detail

/// [code of the first man or nobody][code of the second or nobody]; a lone man is the first.
inline constexpr std::array<std::array<Fold, 11>, 11> folds = detail::list_folds();

} // namespace solve::endgame
