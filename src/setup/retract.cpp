#include "setup/retract.hpp"

#include "setup/conditions.hpp"
#include "setup/diagram.hpp"

#include "board/attacks.hpp"

#include <cstdlib>

namespace setup {

using board::Bitboard;
using board::CastlingSide;
using board::Color;
using board::Role;
using board::Setup;
using board::Square;

namespace {

constexpr std::array officers_taken{Role::knight, Role::bishop, Role::rook, Role::queen};

class Collector {
  public:
    explicit Collector(const Setup& diagram)
        : m_diagram(diagram), m_mover(!diagram.turn), m_empty(~diagram.occupied()),
          m_forward(m_mover == Color::white ? 8 : -8),
          m_can_uncapture(diagram.pieces(diagram.turn).count() < 16) {}

    std::vector<Retraction> all() {
        m_list.reserve(128); // a full board of officers has about so many
        if (m_diagram.en_passant) {
            const int passed = index(*m_diagram.en_passant);
            add(RetractionKind::plain, board::square_at(passed - m_forward),
                board::square_at(passed + m_forward));
            return std::move(m_list);
        }
        const Bitboard free = m_diagram.pieces(m_mover) & ~held_by_rights(m_diagram, m_mover);
        for (const Square man : free & ~m_diagram.by_role[index(Role::pawn)]) {
            officer(man);
        }
        for (const Square pawn : free& m_diagram.by_role[index(Role::pawn)]) {
            pawn_move(pawn);
        }
        for (const CastlingSide side : both_sides) {
            castling(side);
        }
        return std::move(m_list);
    }

  private:
    void add(RetractionKind kind, Square from, Square to, std::optional<Role> uncaptured = std::nullopt) {
        m_list.push_back({kind, from, to, uncaptured});
    }

    void add_captures(RetractionKind kind, Square from, Square to) {
        if (!m_can_uncapture) {
            return;
        }
        if (rank_of(to) != 0 && rank_of(to) != 7) {
            add(kind, from, to, Role::pawn);
        }
        for (const Role role : officers_taken) {
            add(kind, from, to, role);
        }
    }

    void officer(Square man) {
        const board::Piece piece = *m_diagram.at(man);
        const Bitboard sources = board::attacks(piece, man, m_diagram.occupied()) & m_empty;
        for (const Square from : sources) {
            add(RetractionKind::plain, from, man);
        }
        for (const Square from : sources) {
            add_captures(RetractionKind::plain, from, man);
        }
        if (piece.role != Role::king && relative_rank(m_mover, man) == 7) {
            from_behind(RetractionKind::unpromotion, man);
        }
    }

    /// A pawn came to `to` from one rank back, straight or by a capture.
    void from_behind(RetractionKind kind, Square to) {
        const Square behind = board::square_at(index(to) - m_forward);
        if (m_empty.contains(behind)) {
            add(kind, behind, to);
        }
        for (const Square from : board::pawn_attacks(!m_mover, to) & m_empty) {
            add_captures(kind, from, to);
        }
    }

    void pawn_move(Square pawn) {
        const int rank = relative_rank(m_mover, pawn);
        if (rank == 1) {
            return;
        }
        from_behind(RetractionKind::plain, pawn);
        const Square behind = board::square_at(index(pawn) - m_forward);
        if (rank == 3) {
            const Square start = board::square_at(index(behind) - m_forward);
            if (m_empty.contains(behind) && m_empty.contains(start)) {
                add(RetractionKind::plain, start, pawn);
            }
        }
        const Square enemy_start = board::square_at(index(pawn) + m_forward);
        if (rank == 5 && m_can_uncapture && m_empty.contains(behind) && m_empty.contains(enemy_start)) {
            for (const Square from : board::pawn_attacks(!m_mover, pawn) & m_empty) {
                add(RetractionKind::un_en_passant, from, pawn, Role::pawn);
            }
        }
    }

    void castling(CastlingSide side) {
        const bool kingside = side == CastlingSide::king;
        const Square king = home_square(m_mover, kingside ? 6 : 2);
        const Square rook = home_square(m_mover, kingside ? 5 : 3);
        const Square king_from = m_diagram.home.king(m_mover);
        const Square rook_from = m_diagram.home.rook(m_mover, side);
        const Bitboard vacated = Bitboard(king_from) | rook_from | board::between(rook_from, king);
        if (m_diagram.pieces(m_mover, Role::king).contains(king) &&
            m_diagram.pieces(m_mover, Role::rook).contains(rook) && (vacated & ~m_empty).empty() &&
            !has_any_right(m_diagram, m_mover)) {
            add(RetractionKind::uncastling, king_from, king);
        }
    }

    const Setup& m_diagram;
    Color m_mover;
    Bitboard m_empty;
    int m_forward; ///< from a square to the one before it, as the mover sees it
    bool m_can_uncapture;
    std::vector<Retraction> m_list;
};

/// Puts king and rook back; false if the king's way led through check.
bool undo_castling(Setup& earlier, const Retraction& retraction) {
    const Color mover = earlier.turn;
    const CastlingSide side = file_of(retraction.to) == 6 ? CastlingSide::king : CastlingSide::queen;
    const Square rook_to = home_square(mover, side == CastlingSide::king ? 5 : 3);
    earlier.remove(retraction.to);
    earlier.remove(rook_to);
    earlier.put(retraction.from, {mover, Role::king});
    earlier.put(earlier.home.rook(mover, side), {mover, Role::rook});
    earlier.castling.add(mover, side);
    for (const Square square : {retraction.from, rook_to, retraction.to}) {
        if (attackers(earlier, square, !mover).any()) {
            return false;
        }
    }
    return true;
}

void undo_move(Setup& earlier, const Retraction& retraction) {
    const Color mover = earlier.turn;
    const board::Piece moved = *earlier.at(retraction.to);
    earlier.remove(retraction.to);
    earlier.put(retraction.from,
                {mover, retraction.kind == RetractionKind::unpromotion ? Role::pawn : moved.role});
    if (retraction.kind == RetractionKind::un_en_passant) {
        earlier.put(board::square_at(file_of(retraction.to), rank_of(retraction.from)), {!mover, Role::pawn});
        earlier.en_passant = retraction.to;
    } else if (retraction.uncaptured) {
        earlier.put(retraction.to, {!mover, *retraction.uncaptured});
    }
}

/// What promotions cost in pawns' captures is as dear to tell as so many positions.
constexpr int share_out_cost = 20;

/// `later` has passed what is asked of `earlier`: a share-out only changes with the pawns or the number of
/// men.
bool cannot_arise(const Setup& earlier, const Setup& later, int& budget) {
    if (!placement_can_arise(earlier)) {
        return true;
    }
    const auto pawns = [](const Setup& diagram, Color color) { return diagram.pieces(color, Role::pawn); };
    if (earlier.occupied().count() == later.occupied().count() &&
        pawns(earlier, Color::white) == pawns(later, Color::white) &&
        pawns(earlier, Color::black) == pawns(later, Color::black)) {
        return false;
    }
    budget -= share_out_cost;
    return promotions_past_pawns(earlier, share_out_nodes).has_value();
}

bool is_kind(const Setup& diagram, const Retraction& retraction, LastMove kind) {
    const bool pawn = retraction.kind == RetractionKind::unpromotion ||
                      diagram.by_role[index(Role::pawn)].contains(retraction.to);
    const bool zeroing = pawn || retraction.uncaptured.has_value();
    switch (kind) {
    case LastMove::any:
        return true;
    case LastMove::zeroing:
        return zeroing;
    case LastMove::quiet:
        return !zeroing;
    case LastMove::not_a_double_step:
        return !pawn || std::abs(rank_of(retraction.from) - rank_of(retraction.to)) != 2;
    }
    return true;
}

} // namespace

std::vector<Retraction> candidates(const Setup& diagram) {
    return Collector(diagram).all();
}

board::Result<Setup, Obstacle> before(const Setup& diagram, const Retraction& retraction) {
    Setup earlier = flipped(diagram);
    earlier.en_passant.reset();
    if (retraction.kind == RetractionKind::uncastling) {
        if (!undo_castling(earlier, retraction)) {
            return board::failure(Obstacle::king_route);
        }
    } else {
        undo_move(earlier, retraction);
    }
    const Color mover = earlier.turn;
    if (checkers(earlier, !mover).any()) {
        return board::failure(Obstacle::check);
    }
    if (checkers(earlier, mover).count() > 2) {
        return board::failure(Obstacle::three);
    }
    if ((retraction.uncaptured && !men_fit(earlier, !mover)) ||
        (retraction.kind == RetractionKind::unpromotion && !men_fit(earlier, mover))) {
        return board::failure(Obstacle::men);
    }
    return earlier;
}

Past look_back(const Setup& diagram, LastMove kind, int depth, int& budget) {
    if (kind == LastMove::any && diagram.turn == Color::white && is_initial_placement(diagram)) {
        return Past::found;
    }
    for (const Retraction& retraction : candidates(diagram)) {
        if (!is_kind(diagram, retraction, kind)) {
            continue;
        }
        if (--budget < 0) {
            return Past::open;
        }
        const board::Result<Setup, Obstacle> earlier = before(diagram, retraction);
        if (!earlier) {
            continue;
        }
        if (depth <= 1) {
            return Past::found;
        }
        if (cannot_arise(*earlier, diagram, budget)) {
            continue;
        }
        const Past past = look_back(*earlier, LastMove::any, depth - 1, budget);
        if (past != Past::none) {
            return past;
        }
    }
    return Past::none;
}

} // namespace setup
