// The order of positions in a table: each position has one entry, and symmetrical ones share it.

#include "solve/endgame_layout.hpp"

#include "catch.hpp"

#include <set>

using namespace solve::endgame;
using board::Color, board::Piece, board::Role, board::Square;

TEST_CASE("endgame layout: pairs of kings up to symmetry") {
    CHECK(KingPairs::of(false).size() == 462); // well-known counts, from memory
    CHECK(KingPairs::of(true).size() == 1806);
    for (const bool pawns : {false, true}) {
        const KingPairs& pairs = KingPairs::of(pawns);
        std::set<int> used;
        for (int i = 0; i < 4096; ++i) {
            const Square white = board::square_at(i / 64);
            const Square black = board::square_at(i % 64);
            const KingPairs::Place place = pairs.place(white, black);
            INFO(name(white) << ' ' << name(black));
            if (distance(white, black) < 2) {
                CHECK(place.number == KingPairs::none);
                continue;
            }
            REQUIRE(place.number < pairs.size());
            used.insert(place.number);
            CHECK(turn(white, place.symmetry) == pairs[place.number].white);
            CHECK(turn(black, place.symmetry) == pairs[place.number].black);
            CHECK((!pawns || place.symmetry <= 1));
        }
        CHECK(used.size() == pairs.size());
    }
}

TEST_CASE("endgame layout: an entry's position stands where the entry is") {
    for (const Material& material : materials) {
        INFO(name(material));
        const Layout layout(material);
        int wrong = 0;
        for (Index i = 0; i < layout.size(); i += 97) {
            wrong += layout.at(layout.entry(i).placement) == i ? 0 : 1;
        }
        CHECK(wrong == 0);
        CHECK(layout.size() <= 32U << 20U);
    }
}

TEST_CASE("endgame layout: symmetrical positions share an entry, unless the kings stand on the diagonal") {
    const Layout layout(
        materials[folds[code_of(Piece{Color::white, Role::queen})][code_of(Piece{Color::black, Role::rook})]
                      .slot]);
    for (Index i = 0; i < layout.size(); i += 1009) {
        const Layout::Entry entry = layout.entry(i);
        std::set<Index> entries;
        for (Symmetry symmetry = 0; symmetry < 8; ++symmetry) {
            Placement other = entry.placement;
            for (Square& square : other.at) {
                square = turn(square, symmetry);
            }
            entries.insert(layout.at(other));
        }
        CHECK(entries.count(i) == 1);
        CHECK(entries.size() <= (layout.kings()[entry.pair].on_diagonal ? 2U : 1U));
    }
}

TEST_CASE("endgame materials: men in any order and colours find their table") {
    std::set<std::string> names;
    for (const Material& material : materials) {
        names.insert(name(material));
    }
    CHECK(names.size() == slots);
    CHECK(names.count("kqkr") == 1);
    CHECK(names.count("kppk") == 1);
    for (std::size_t first = 0; first < nobody; ++first) {
        for (std::size_t second = 0; second <= nobody; ++second) {
            const Fold fold = folds[first][second];
            std::array<std::size_t, 2> codes{first, second};
            if (fold.swapped) {
                std::swap(codes[0], codes[1]);
            }
            const Material& found = materials[fold.slot];
            REQUIRE(found.size == (second == nobody ? 1U : 2U));
            for (std::size_t i = 0; i < found.size; ++i) {
                Piece man = found.men[i];
                man.color = fold.flipped ? !man.color : man.color;
                CHECK(code_of(man) == codes[i]);
            }
        }
    }
    CHECK(folds[nobody][nobody].slot == 0);
}
