// Where the pawns can have come from, and what it cost (classic retro-analysis: pawn structure).

#include "setup/conditions.hpp"
#include "setup/diagram.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cstdlib>
#include <limits>

namespace setup {

using board::Bitboard;
using board::Color;
using board::Role;
using board::Setup;
using board::Square;

namespace {

using Files = unsigned; ///< a set of files, bit 0 is the a-file

constexpr int no_limit = 8 * 6; ///< captures; no pawn makes more than six

/// What the captures that placed the pawns must allow, for colours of square matter where every man lost is
/// needed.
enum Shade : unsigned {
    one_on_light = 1, ///< one of them can have been on a light square
    one_on_dark = 2,
};

/// Places all pawns of one side, each from a home file of its own, with so few captures. Where a pawn never
/// went straight, all its captures were on the colour it stands on; one straight step, and it had the choice.
class Placing {
  public:
    /// Pawns still on a file of `must_have_left` are charged for having left it for a time.
    Placing(const Setup& diagram, Color color, Files must_have_left = 0) : m_must_have_left(must_have_left) {
        for (const Square square : diagram.pieces(color, Role::pawn)) {
            const bool light = board::light_squares.contains(square);
            m_pawns[m_count++] = {file_of(square), relative_rank(color, square) - 1,
                                  light ? one_on_light : one_on_dark};
        }
        if (color == Color::black) { // those with the fewest homes to choose from come first
            std::reverse(m_pawns.begin(), m_pawns.begin() + static_cast<std::ptrdiff_t>(m_count));
        }
    }

    [[nodiscard]] bool possible(int most, unsigned shades = 0) {
        if (most < 0) {
            return false;
        }
        m_shades = shades;
        for (std::size_t had = 0; had <= shades; ++had) {
            m_seen[had].fill(std::numeric_limits<std::uint8_t>::max());
        }
        return place(0, 0, most, 0);
    }

    /// Fewest captures, or nothing when no number of them is enough.
    [[nodiscard]] std::optional<int> fewest() {
        if (!possible(no_limit)) {
            return std::nullopt;
        }
        int most = 0;
        while (!possible(most)) {
            ++most;
        }
        return most;
    }

  private:
    struct Pawn {
        int file;
        int steps;
        unsigned shade;
    };

    bool place(std::size_t pawn, Files used, int left, unsigned had) {
        if (pawn == m_count) {
            return (m_shades & ~had) == 0;
        }
        // Nothing new where the same homes were used up as cheaply before.
        std::uint8_t& spent = m_seen[had][used];
        if (no_limit - left >= spent) {
            return false;
        }
        spent = static_cast<std::uint8_t>(no_limit - left);
        const auto [file, steps, shade] = m_pawns[pawn];
        for (int files = 0; files <= std::min(steps, left); ++files) {
            for (int side = files == 0 ? 1 : -1; side <= 1; side += 2) {
                const int origin = file + side * files;
                if (origin < 0 || origin > 7 || ((used >> origin) & 1U) != 0) {
                    continue;
                }
                const bool returned = files == 0 && ((m_must_have_left >> origin) & 1U) != 0;
                const int captures = returned ? 2 : files;
                const unsigned now = captures == 0       ? 0
                                     : captures == steps ? shade
                                                         : one_on_light | one_on_dark;
                if (captures <= std::min(steps, left) &&
                    place(pawn + 1, used | 1U << origin, left - captures, had | (now & m_shades))) {
                    return true;
                }
            }
        }
        return false;
    }

    std::array<Pawn, 8> m_pawns{};
    std::size_t m_count = 0;
    Files m_must_have_left;
    unsigned m_shades = 0;
    std::array<std::array<std::uint8_t, 256>, 4> m_seen; ///< captures spent, by shades had and homes used
};

bool one_pawn_a_file(Bitboard pawns) {
    for (int file = 0; file < 8; ++file) {
        if ((pawns & board::file_bits(file)).many()) {
            return false;
        }
    }
    return true;
}

/// Files on which every white pawn stands beyond every black one.
Files passed_files(const Setup& diagram) {
    Files passed = 0;
    for (int file = 0; file < 8; ++file) {
        const Bitboard white = diagram.pieces(Color::white, Role::pawn) & board::file_bits(file);
        const Bitboard black = diagram.pieces(Color::black, Role::pawn) & board::file_bits(file);
        if (white.empty() || black.empty()) {
            continue;
        }
        const int highest_black = 63 - std::countl_zero(black.bits());
        if (highest_black < index(white.first())) {
            passed |= 1U << file;
        }
    }
    return passed;
}

/// Too many pawns for the home files they can have come from (Hall's condition).
struct Crowd {
    Bitboard pawns;
    Bitboard homes;
};

Crowd smallest_crowd(const Setup& diagram, Color color) {
    const std::vector<Square> pawns = to_squares(diagram.pieces(color, Role::pawn));
    Crowd smallest;
    for (unsigned subset = 1; subset < (1U << pawns.size()); ++subset) {
        Crowd crowd;
        for (std::size_t i = 0; i < pawns.size(); ++i) {
            if (((subset >> i) & 1U) == 0) {
                continue;
            }
            crowd.pawns |= pawns[i];
            for (int file = 0; file < 8; ++file) {
                if (std::abs(file_of(pawns[i]) - file) <= relative_rank(color, pawns[i]) - 1) {
                    crowd.homes |= board::square_at(file, color == Color::white ? 1 : 6);
                }
            }
        }
        if (crowd.homes.count() < crowd.pawns.count() &&
            (smallest.pawns.empty() || crowd.pawns.count() < smallest.pawns.count())) {
            smallest = crowd;
        }
    }
    return smallest;
}

Contradiction structure(std::string code, std::string why, Bitboard squares) {
    return {Rule::unreachable, std::move(code), Grade::illegal, std::move(why), to_squares(squares), {}};
}

bool can_place(const Setup& diagram, Color color, int most) {
    return Placing(diagram, color).possible(most);
}

/// As few of the pawns as still cannot be `placed`.
template <class Placed> Setup telling_pawns(Setup diagram, Color color, Placed placed) {
    for (const Square pawn : diagram.pieces(color, Role::pawn)) {
        Setup fewer = diagram;
        fewer.remove(pawn);
        if (!placed(fewer)) {
            diagram = fewer;
        }
    }
    return diagram;
}

/// Men of the other side that a pawn of `color` still on the board can have taken.
int budget(const Setup& diagram, Color color) {
    return 16 - diagram.pieces(!color).count() - losses_beyond_pawns(diagram, !color).count();
}

/// Colours of square on which an original bishop was lost that a pawn of the other side can have taken.
unsigned shades_of_lost_bishops(const Setup& diagram, Color color) {
    const Bitboard bishops = diagram.pieces(color, Role::bishop);
    const Bitboard homes = Bitboard(home_square(color, 2)) | home_square(color, 5);
    const Bitboard beyond_pawns = losses_beyond_pawns(diagram, color) & homes;
    const auto lost = [&](Bitboard shade) { return ((bishops | beyond_pawns) & shade).empty(); };
    return (lost(board::light_squares) ? one_on_light : 0U) | (lost(board::dark_squares) ? one_on_dark : 0U);
}

/// W5: the pawns took every man they can have taken, and a bishop among them never stood on the colour of
/// square where all their captures were.
bool shades_agree(const Setup& diagram, Color color, int available) {
    const unsigned shades = shades_of_lost_bishops(diagram, !color);
    return shades == 0 || can_place(diagram, color, available - 1) ||
           Placing(diagram, color).possible(available, shades);
}

Contradiction too_few_homes(const Setup& diagram, Color color) {
    const Crowd crowd = smallest_crowd(diagram, color);
    return structure("W1",
                     fmt::format("the {} {} can only have come from {}", name(color), pawns_text(crowd.pawns),
                                 squares_text(crowd.homes)),
                     crowd.pawns);
}

Contradiction too_many_captures(const Setup& diagram, Color color, int available) {
    const Setup telling =
        telling_pawns(diagram, color, [&](const Setup& fewer) { return can_place(fewer, color, available); });
    const Bitboard pawns = telling.pieces(color, Role::pawn);
    const int missing = 16 - diagram.pieces(!color).count();
    std::string why =
        fmt::format("the {} {} {} made at least {}, but {} lacks {}", name(color), pawns_text(pawns),
                    pawns.many() ? "have" : "has", count_text(*Placing(telling, color).fewest(), "capture"),
                    side_name(!color), missing == 0 ? "nothing" : fmt::format("only {} of its men", missing));
    const Bitboard died = losses_beyond_pawns(diagram, !color);
    if (died.any()) {
        why += fmt::format(", and what stood on {} at first died out of a pawn's reach", squares_text(died));
    }
    return structure("W2", std::move(why), pawns | died);
}

/// The captures needed leave no man over, and all of them are bound to the colour of square that one of the
/// bishops taken never stands on.
Contradiction captures_on_one_shade(const Setup& diagram, Color color, int available) {
    const Setup telling = telling_pawns(diagram, color, [&](const Setup& fewer) {
        return can_place(fewer, color, available) && shades_agree(fewer, color, available);
    });
    const Bitboard pawns = telling.pieces(color, Role::pawn);
    const unsigned shades = shades_of_lost_bishops(diagram, !color);
    const auto never_on = [&](unsigned shade) {
        return (shades & shade) != 0 && !Placing(telling, color).possible(available, shade);
    };
    const std::array<const char*, 2> words = never_on(one_on_light)  ? std::array{"dark", "light"}
                                             : never_on(one_on_dark) ? std::array{"light", "dark"}
                                                                     : std::array{"like-coloured", "other"};
    const Bitboard died = losses_beyond_pawns(diagram, !color);
    return structure(
        "W5",
        fmt::format("the {} {} {} made at least {}, all on {} squares, but of the men that {} lacks{} one is "
                    "the bishop of the {} squares, and none is left over",
                    name(color), pawns_text(pawns), pawns.many() ? "have" : "has",
                    count_text(available, "capture"), words[0], side_name(!color),
                    died.any() ? fmt::format(" (what stood on {} at first died out of a pawn's reach)",
                                             squares_text(died))
                               : "",
                    words[1]),
        pawns | died);
}

Finding capture_budget(const Setup& diagram, Color color) {
    const Bitboard pawns = diagram.pieces(color, Role::pawn);
    if (one_pawn_a_file(pawns)) {
        return std::nullopt;
    }
    if (!can_place(diagram, color, no_limit)) {
        return too_few_homes(diagram, color);
    }
    const int available = budget(diagram, color);
    if (!can_place(diagram, color, available)) {
        return too_many_captures(diagram, color, available);
    }
    if (!shades_agree(diagram, color, available)) {
        return captures_on_one_shade(diagram, color, available);
    }
    return std::nullopt;
}

/// Each passed file is charged to one side or the other: is there a way to share them out that both can pay?
bool can_share(const Setup& diagram, Files passed) {
    const std::array<int, 2> budgets{budget(diagram, Color::white), budget(diagram, Color::black)};
    const auto can_pay = [&](Color color, Files files) {
        return Placing(diagram, color, files).possible(budgets[index(color)]);
    };
    // Mostly one side can pay for all; what it must pay in any case has been asked before (W2).
    if (can_pay(Color::white, passed) || can_pay(Color::black, passed)) {
        return true;
    }
    Files for_white = 0;
    Files for_black = 0;
    for (Files file = 1; file < 256; file <<= 1U) {
        for_white |= (passed & file) != 0 && !can_pay(Color::black, file) ? file : 0U;
        for_black |= (passed & file) != 0 && !can_pay(Color::white, file) ? file : 0U;
    }
    const Files open = passed & ~(for_white | for_black);
    for (Files share = open; (for_white & for_black) == 0; share = (share - 1) & open) {
        if (can_pay(Color::white, for_white | share) && can_pay(Color::black, for_black | (open & ~share))) {
            return true;
        }
        if (share == 0) {
            break;
        }
    }
    return false;
}

/// Two pawns that faced each other on one file and have passed: one of them left the file and came back.
Finding passing_budget(const Setup& diagram) {
    const Files passed = passed_files(diagram);
    if (passed == 0 || can_share(diagram, passed)) {
        return std::nullopt;
    }
    Bitboard pawns;
    std::vector<std::string> files;
    for (int file = 0; file < 8; ++file) {
        if (((passed >> file) & 1U) != 0) {
            pawns |= diagram.by_role[index(Role::pawn)] & board::file_bits(file);
            files.emplace_back(1, static_cast<char>('a' + file));
        }
    }
    const int missing = 32 - diagram.occupied().count();
    return structure(
        "W3",
        fmt::format(
            "the pawns on the {} file{} have passed each other, which takes captures by pawns, but {}",
            join(files), files.size() == 1 ? "" : "s",
            missing == 0   ? std::string("nothing has been captured")
            : missing == 1 ? std::string("the one man missing is not enough")
                           : fmt::format("the {} men missing are not enough", missing)),
        pawns);
}

} // namespace

Finding pawns_without_homes(const Setup& diagram, Color color) {
    return can_place(diagram, color, no_limit) ? std::nullopt : Finding(too_few_homes(diagram, color));
}

bool pawns_can_stand(const Setup& diagram) {
    for (const Color color : both_colors) {
        if (one_pawn_a_file(diagram.pieces(color, Role::pawn))) {
            continue;
        }
        const int available = budget(diagram, color);
        if (!can_place(diagram, color, available) || !shades_agree(diagram, color, available)) {
            return false;
        }
    }
    const Files passed = passed_files(diagram);
    return passed == 0 || can_share(diagram, passed);
}

Finding pawn_structure(const Setup& diagram) {
    if (pawns_can_stand(diagram)) {
        return std::nullopt;
    }
    for (const Color color : both_colors) {
        if (Finding found = capture_budget(diagram, color)) {
            return found;
        }
    }
    return passing_budget(diagram);
}

} // namespace setup
