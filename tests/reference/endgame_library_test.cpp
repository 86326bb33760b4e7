// Every position of three men against the tables and the probing library that Debian packages.

#include "board/fen.hpp"
#include "board/position.hpp"
#include "solve/endgame_tables.hpp"

#include "catch.hpp"

#include <gtb-probe.h>

#include <array>
#include <optional>
#include <string>

namespace {

using board::Color, board::Position, board::Role, board::Square;
using Outcome = solve::EndgameValue::Outcome;

/// Opened for the time of a test.
class Library {
  public:
    Library() : m_paths(tbpaths_add(tbpaths_init(), "/usr/share/gaviotatb/gtb4")) {
        constexpr std::size_t cache_bytes = std::size_t{8} << 20U;
        tb_init(0, tb_CP4, m_paths);
        tbcache_init(cache_bytes, 0);
    }
    Library(const Library&) = delete;
    Library& operator=(const Library&) = delete;
    ~Library() {
        tbcache_done();
        tb_done();
        tbpaths_done(m_paths);
    }

    [[nodiscard]] static bool knows_three_men() { return (tb_availability() & 2U) != 0; }

    [[nodiscard]] std::optional<solve::EndgameValue> probe(const Position& position) const {
        const Side white = side(position, Color::white);
        const Side black = side(position, Color::black);
        unsigned info = tb_UNKNOWN;
        unsigned plies = 0;
        const unsigned turn = position.turn() == Color::white ? tb_WHITE_TO_MOVE : tb_BLACK_TO_MOVE;
        if (tb_probe_hard(turn, tb_NOSQUARE, tb_NOCASTLE, white.squares.data(), black.squares.data(),
                          white.men.data(), black.men.data(), &info, &plies) == 0) {
            return std::nullopt;
        }
        if (info == tb_DRAW) {
            return solve::EndgameValue{};
        }
        if (info != tb_WMATE && info != tb_BMATE) {
            return std::nullopt;
        }
        const Color winner = info == tb_WMATE ? Color::white : Color::black;
        return solve::EndgameValue{winner == position.turn() ? Outcome::win : Outcome::loss,
                                   static_cast<int>(plies)};
    }

  private:
    struct Side {
        std::array<unsigned, 4> squares;
        std::array<unsigned char, 4> men;
    };
    static Side side(const Position& position, Color color) {
        static_assert(tb_PAWN == 1 && tb_KING == 6 && tb_A1 == 0 && tb_H8 == 63);
        Side listed{};
        std::size_t n = 0;
        for (const Square square : position.pieces(color)) {
            listed.squares[n] = static_cast<unsigned>(index(square));
            listed.men[n++] = static_cast<unsigned char>(index(position.at(square)->role) + 1);
        }
        listed.squares[n] = tb_NOSQUARE;
        listed.men[n] = tb_NOPIECE;
        return listed;
    }
    const char** m_paths;
};

std::optional<Position> numbered(int number, board::Piece man) {
    board::Setup setup;
    const auto square = [&](int shift) { return board::square_at((number >> shift) & 63); };
    if (square(12) == square(6) || square(6) == square(0) || square(0) == square(12)) {
        return std::nullopt;
    }
    setup.put(square(12), {Color::white, Role::king});
    setup.put(square(6), {Color::black, Role::king});
    setup.put(square(0), man);
    setup.turn = number >> 18 == 0 ? Color::white : Color::black;
    const auto made = Position::from(setup);
    return made.ok() ? std::optional(*made) : std::nullopt;
}

} // namespace

TEST_CASE("endgame library: every position of three men has the same value and distance") {
    const Library library;
    REQUIRE(Library::knows_three_men());
    const solve::EndgameTables tables(std::nullopt);
    for (const Role role : {Role::queen, Role::rook, Role::bishop, Role::knight, Role::pawn}) {
        for (const Color color : {Color::white, Color::black}) {
            int compared = 0;
            int wrong = 0;
            for (int number = 0; number < 2 * 64 * 64 * 64; ++number) {
                const auto position = numbered(number, {color, role});
                if (!position) {
                    continue;
                }
                ++compared;
                const auto theirs = library.probe(*position);
                if ((!theirs || tables.probe(*position) != theirs) && wrong++ < 3) {
                    UNSCOPED_INFO(board::write_fen(position->setup()));
                }
            }
            INFO(board::letter({color, role}));
            CHECK(wrong == 0);
            CHECK(compared > 300'000);
        }
    }
}
