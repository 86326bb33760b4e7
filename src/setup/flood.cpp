// Men that certainly never moved wall off parts of the board: who can have got where he stands?
// (retro-analysis lore)

#include "setup/conditions.hpp"
#include "setup/diagram.hpp"

#include "board/attacks.hpp"

#include <fmt/format.h>

namespace setup {

using board::Bitboard;
using board::Color;
using board::Role;
using board::Setup;
using board::Square;

namespace {

constexpr std::array officers{Role::queen, Role::rook, Role::bishop, Role::knight};

Bitboard unmoved_pawns(const Setup& diagram, Color color) {
    return diagram.pieces(color, Role::pawn) & board::rank_bits(color == Color::white ? 1 : 6);
}

/// Men that have stood where they stand since the first move.
Bitboard static_men(const Setup& diagram) {
    Bitboard fixed;
    for (const Color color : both_colors) {
        const Bitboard pawns = unmoved_pawns(diagram, color);
        fixed |= pawns | held_by_rights(diagram, color);
        for (const int file : {2, 5}) {
            const Square home = home_square(color, file);
            const Bitboard exits = board::pawn_attacks(color, home);
            if (diagram.pieces(color, Role::bishop).contains(home) && (exits & ~pawns).empty()) {
                fixed |= home;
            }
        }
    }
    return fixed;
}

/// `files` is -1, 0 or 1.
Bitboard shifted(Bitboard squares, int files, int ranks) {
    const Bitboard lost = files == 0 ? Bitboard() : board::file_bits(files > 0 ? 7 : 0);
    const Bitboard kept = squares & ~lost;
    const int by = files + 8 * ranks;
    return Bitboard(by > 0 ? kept.bits() << by : kept.bits() >> -by);
}

/// Squares one step away. Riders are taken step by step: whatever is not static may once have been out of the
/// way.
Bitboard step(Role role, Bitboard from) {
    Bitboard reached;
    if (role == Role::knight) {
        for (const Square square : from) {
            reached |= board::knight_attacks(square);
        }
        return reached;
    }
    if (role != Role::bishop) {
        reached |= shifted(from, 0, 1) | shifted(from, 0, -1) | shifted(from, 1, 0) | shifted(from, -1, 0);
    }
    if (role != Role::rook) {
        reached |= shifted(from, 1, 1) | shifted(from, 1, -1) | shifted(from, -1, 1) | shifted(from, -1, -1);
    }
    return reached;
}

Bitboard flood(Role role, Bitboard seeds, Bitboard closed) {
    Bitboard reached = seeds;
    for (Bitboard front = seeds; front.any();) {
        front = step(role, front) & ~closed & ~reached;
        reached |= front;
    }
    return reached;
}

/// What is known about one side's ways: walls, castling, promotion squares.
struct Ways {
    Color color;
    Bitboard closed;          ///< static men of both sides
    Bitboard closed_to_king;  ///< and what they guard against this side's king
    Bitboard promotion_seeds; ///< squares of the last rank that some pawn may have reached
    bool castled[2];          ///< may have castled, by CastlingSide
};

/// Where a pawn that promoted on one of these squares can have stood before.
Bitboard before_promotion(Color color, Bitboard squares) {
    const Bitboard last = squares & board::rank_bits(color == Color::white ? 7 : 0);
    const Bitboard below = shifted(last, 0, color == Color::white ? -1 : 1);
    return below | shifted(below, 1, 0) | shifted(below, -1, 0);
}

Ways ways_of(const Setup& diagram, Color color) {
    Ways ways{color, static_men(diagram), {}, {}, {}};
    ways.closed_to_king = ways.closed;
    for (const Square pawn : unmoved_pawns(diagram, !color)) {
        ways.closed_to_king |= board::pawn_attacks(!color, pawn);
    }
    for (const Square king : diagram.pieces(!color, Role::king) & ways.closed) {
        ways.closed_to_king |= board::king_attacks(king);
    }
    const bool king_moved = !has_any_right(diagram, color);
    ways.castled[0] = king_moved && !ways.closed.contains(home_square(color, 5));
    ways.castled[1] = king_moved && !ways.closed.contains(home_square(color, 2));
    const Bitboard open_last = board::rank_bits(color == Color::white ? 7 : 0) & ~ways.closed;
    for (const Square square : open_last) {
        if ((before_promotion(color, Bitboard(square)) & ~ways.closed).any()) {
            ways.promotion_seeds |= square;
        }
    }
    return ways;
}

/// Where the original from this home square may be.
Bitboard home_flood(const Ways& ways, Role role, Square home) {
    if (role == Role::king) {
        Bitboard seeds(home);
        seeds |= ways.castled[0] ? Bitboard(home_square(ways.color, 6)) : Bitboard();
        seeds |= ways.castled[1] ? Bitboard(home_square(ways.color, 2)) : Bitboard();
        return ways.closed.contains(home) ? Bitboard(home) : flood(role, seeds, ways.closed_to_king);
    }
    if (ways.closed.contains(home)) {
        return Bitboard(home);
    }
    Bitboard seeds(home);
    if (role == Role::rook && ways.castled[file_of(home) == 7 ? 0 : 1]) {
        seeds |= home_square(ways.color, file_of(home) == 7 ? 5 : 3);
    }
    return flood(role, seeds, ways.closed);
}

/// Static men that bound the part of the board a man can move in from `square`.
Bitboard walls(Role role, Bitboard region, const Ways& ways, const Setup& diagram) {
    const Bitboard border = step(role, region) & ~region;
    Bitboard men = border & ways.closed;
    if (role == Role::king) {
        for (const Square pawn : unmoved_pawns(diagram, !ways.color)) {
            if ((board::pawn_attacks(!ways.color, pawn) & border).any()) {
                men |= pawn;
            }
        }
    }
    return men;
}

Finding locked(std::string why, Bitboard squares) {
    return Contradiction{Rule::unreachable, "H1", Grade::illegal, std::move(why), to_squares(squares), {}};
}

/// Says why the man cannot have come from any home square of his kind.
Finding explain_lock(const Setup& diagram, const Ways& ways, Role role, Square man, Bitboard homes) {
    const Bitboard closed = role == Role::king ? ways.closed_to_king : ways.closed;
    // The smaller of the two pens is the one to show: around the man, or around a home square.
    Bitboard pen = flood(role, Bitboard(man), closed);
    for (const Square home : homes) {
        const Bitboard from_home = home_flood(ways, role, home);
        const bool same_shade =
            ((from_home & board::light_squares).any() == (Bitboard(man) & board::light_squares).any());
        if ((role != Role::bishop || same_shade) && from_home.count() < pen.count()) {
            pen = from_home;
        }
    }
    Bitboard men = walls(role, pen, ways, diagram) & ~Bitboard(man);
    if (role != Role::king) {
        men |= before_promotion(ways.color, pen) & ways.closed; // they keep pawns from promoting inside
    }
    std::string why =
        fmt::format("the {} {} cannot have got there", name(ways.color), man_text(diagram, man));
    if (role == Role::king) {
        why += fmt::format(": the {} never moved and bar{} its way", men_text(diagram, men),
                           men.many() ? "" : "s");
    } else if (men.any()) {
        why += fmt::format(", from home or by promotion: the {} never moved", men_text(diagram, men));
    }
    return locked(std::move(why), men | man);
}

/// At most two originals of a kind, so a matching is found by trying both ways round.
class Originals {
  public:
    Originals(const Ways& ways, Role role) : m_homes(setup::homes(ways.color, role)) {
        for (const Square home : m_homes) {
            m_floods[m_count++] = home_flood(ways, role, home);
        }
    }
    [[nodiscard]] Bitboard homes() const { return m_homes; }
    /// Places one more man among the originals, moving the others over if that helps.
    bool place(Square man) {
        for (std::size_t i = 0; i < m_count; ++i) {
            if (!m_floods[i].contains(man)) {
                continue;
            }
            if (!m_taken[i]) {
                m_taken[i] = man;
                return true;
            }
            const std::size_t other = 1 - i;
            if (other < m_count && !m_taken[other] && m_floods[other].contains(*m_taken[i])) {
                m_taken[other] = m_taken[i];
                m_taken[i] = man;
                return true;
            }
        }
        return false;
    }

  private:
    Bitboard m_homes;
    std::array<Bitboard, 2> m_floods;
    std::size_t m_count = 0;
    std::array<std::optional<Square>, 2> m_taken;
};

} // namespace

Finding check_by_unmoved_pawn(const Setup& diagram) {
    for (const Color color : both_colors) {
        const Bitboard kings = diagram.pieces(color, Role::king);
        if (kings.empty()) {
            continue;
        }
        const Square king = kings.first();
        const Bitboard pawns = board::pawn_attacks(color, king) & unmoved_pawns(diagram, !color);
        if (pawns.any()) {
            return Contradiction{
                Rule::impossible_check,
                "H2",
                Grade::illegal,
                fmt::format("the {} king on {} is in check from the {}, which never moved: it cannot have "
                            "stepped into that check",
                            name(color), name(king), pawns_text(pawns)),
                to_squares(pawns | king),
                {}};
        }
    }
    return std::nullopt;
}

Finding locked_men(const Setup& diagram) {
    if (diagram.home.is_shuffled()) {
        return std::nullopt; // where the officers started is not known
    }
    if (static_men(diagram).empty()) {
        return std::nullopt; // nobody is locked in or out, and N2 and N3 have counted the promotions
    }
    for (const Color color : both_colors) {
        const Ways ways = ways_of(diagram, color);
        const Bitboard king_abroad = diagram.pieces(color, Role::king) & ~homes(color, Role::king);
        if (king_abroad.any()) {
            Originals king(ways, Role::king);
            if (!king.place(king_abroad.first())) {
                return explain_lock(diagram, ways, Role::king, king_abroad.first(), king.homes());
            }
        }
        Bitboard promoted;
        for (const Role role : officers) {
            const Bitboard men = diagram.pieces(color, role);
            if ((men & ~homes(color, role)).empty()) {
                continue;
            }
            const Bitboard by_promotion = flood(role, ways.promotion_seeds, ways.closed);
            Originals originals(ways, role);
            // Those that cannot be promoted take the originals' places first.
            for (const Square man : men & ~by_promotion) {
                if (!originals.place(man)) {
                    return explain_lock(diagram, ways, role, man, originals.homes());
                }
            }
            for (const Square man : men& by_promotion) {
                if (!originals.place(man)) {
                    promoted |= man;
                }
            }
        }
        const int missing = 8 - diagram.pieces(color, Role::pawn).count();
        if (promoted.count() > missing) {
            return locked(
                fmt::format("{}'s {} must be promoted, as the originals of their kind cannot have got there, "
                            "but {} of its pawns {} missing",
                            side_name(color), men_text(diagram, promoted),
                            missing == 0 ? std::string("none") : fmt::format("only {}", missing),
                            missing == 1 ? "is" : "are"),
                promoted);
        }
    }
    return std::nullopt;
}

Bitboard bishops_lost_at_home(const Setup& diagram, Color color) {
    if (diagram.home.is_shuffled()) {
        return {};
    }
    const Bitboard pawns = unmoved_pawns(diagram, color);
    Bitboard lost;
    for (const Square home : homes(color, Role::bishop)) {
        const bool shut = (board::pawn_attacks(color, home) & ~pawns).empty();
        if (shut && !diagram.pieces(color, Role::bishop).contains(home)) {
            lost |= home;
        }
    }
    return lost;
}

Bitboard losses_beyond_pawns(const Setup& diagram, Color color) {
    if (diagram.home.is_shuffled() || unmoved_pawns(diagram, color).count() < 2) {
        return {}; // nothing is known to be shut in
    }
    const Ways ways = ways_of(diagram, color);
    const Bitboard in_reach = ~(board::rank_bits(0) | board::rank_bits(7)) & ~ways.closed;
    Bitboard losses;
    for (const Role role : officers) {
        for (const Square home : homes(color, role)) {
            const Bitboard region = home_flood(ways, role, home);
            if ((region & diagram.pieces(color, role)).empty() && (region & in_reach).empty()) {
                losses |= home;
            }
        }
    }
    return losses;
}

} // namespace setup
