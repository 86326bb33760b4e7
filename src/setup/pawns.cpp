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

constexpr int impossible = std::numeric_limits<int>::max() / 2;
using Files = unsigned; ///< a set of files, bit 0 is the a-file

/// Fewest captures that brought this pawn from that file; a pawn that had to leave its file came back as
/// well.
int captures_from(Color color, Square pawn, int origin, Files must_have_left) {
    const int steps = relative_rank(color, pawn) - 1;
    const int files = std::abs(file_of(pawn) - origin);
    const bool returned = files == 0 && ((must_have_left >> origin) & 1U) != 0;
    const int captures = returned ? 2 : files;
    return captures <= steps ? captures : impossible;
}

/// Fewest captures that place all pawns of one side, each from a home file of its own; `impossible` if none
/// does. Pawns still on a file of `must_have_left` are charged for having left it for a time.
int fewest_captures(const Setup& diagram, Color color, Files must_have_left = 0) {
    std::array<Square, 8> pawns;
    std::size_t count = 0;
    for (const Square pawn : diagram.pieces(color, Role::pawn)) {
        pawns[count++] = pawn;
    }
    std::array<int, 256> cheapest; // by the set of home files used up by the first pawns
    cheapest.fill(impossible);
    cheapest[0] = 0;
    int best = impossible;
    for (Files used = 0; used < 256; ++used) {
        if (cheapest[used] >= impossible) {
            continue;
        }
        const auto placed = static_cast<std::size_t>(Bitboard(used).count());
        if (placed == count) {
            best = std::min(best, cheapest[used]);
            continue;
        }
        const int steps = relative_rank(color, pawns[placed]) - 1;
        const int file = file_of(pawns[placed]);
        for (int origin = std::max(0, file - steps); origin <= std::min(7, file + steps); ++origin) {
            const Files with = used | (1U << origin);
            if (with != used) {
                const int captures = captures_from(color, pawns[placed], origin, must_have_left);
                cheapest[with] = std::min(cheapest[with], cheapest[used] + captures);
            }
        }
    }
    return best;
}

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
                if (captures_from(color, pawns[i], file, 0) < impossible) {
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

/// As few of the pawns as still need more captures than that.
Bitboard telling_pawns(Setup diagram, Color color, int available) {
    for (const Square pawn : diagram.pieces(color, Role::pawn)) {
        Setup fewer = diagram;
        fewer.remove(pawn);
        if (fewest_captures(fewer, color) > available) {
            diagram = fewer;
        }
    }
    return diagram.pieces(color, Role::pawn);
}

/// Men of the other side that a pawn of `color` still on the board can have taken.
int budget(const Setup& diagram, Color color) {
    return 16 - diagram.pieces(!color).count() - losses_beyond_pawns(diagram, !color).count();
}

Contradiction too_few_homes(const Setup& diagram, Color color) {
    const Crowd crowd = smallest_crowd(diagram, color);
    return structure("W1",
                     fmt::format("the {} {} can only have come from {}", name(color), pawns_text(crowd.pawns),
                                 squares_text(crowd.homes)),
                     crowd.pawns);
}

Finding capture_budget(const Setup& diagram, Color color) {
    const Bitboard pawns = diagram.pieces(color, Role::pawn);
    if (one_pawn_a_file(pawns)) {
        return std::nullopt;
    }
    const int needed = fewest_captures(diagram, color);
    if (needed >= impossible) {
        return too_few_homes(diagram, color);
    }
    const int missing = 16 - diagram.pieces(!color).count();
    const int available = budget(diagram, color);
    if (needed <= available) {
        return std::nullopt;
    }
    const Bitboard telling = telling_pawns(diagram, color, available);
    Setup only_those = diagram;
    for (const Square pawn : pawns & ~telling) {
        only_those.remove(pawn);
    }
    std::string why = fmt::format(
        "the {} {} {} made at least {}, but {} lacks {}", name(color), pawns_text(telling),
        telling.many() ? "have" : "has", count_text(fewest_captures(only_those, color), "capture"),
        side_name(!color), missing == 0 ? "nothing" : fmt::format("only {} of its men", missing));
    const Bitboard died = losses_beyond_pawns(diagram, !color);
    if (died.any()) {
        why += fmt::format(", and what stood on {} at first died out of a pawn's reach", squares_text(died));
    }
    return structure("W2", std::move(why), telling | died);
}

/// Each passed file is charged to one side or the other: is there a way to share them out that both can pay?
bool can_share(const Setup& diagram, Files passed) {
    const std::array<int, 2> budgets{budget(diagram, Color::white), budget(diagram, Color::black)};
    const auto can_pay = [&](Color color, Files files) {
        return fewest_captures(diagram, color, files) <= budgets[index(color)];
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
    return fewest_captures(diagram, color) >= impossible ? Finding(too_few_homes(diagram, color))
                                                         : std::nullopt;
}

bool pawns_can_stand(const Setup& diagram) {
    for (const Color color : both_colors) {
        if (!one_pawn_a_file(diagram.pieces(color, Role::pawn)) &&
            fewest_captures(diagram, color) > budget(diagram, color)) {
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
