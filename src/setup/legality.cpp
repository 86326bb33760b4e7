#include "setup/legality.hpp"

#include "setup/conditions.hpp"
#include "setup/diagram.hpp"

#include "board/position.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace setup {

using board::Color;
using board::Setup;

namespace {

using Found = std::vector<Contradiction>;
using Test = Finding (*)(const Setup&);

constexpr std::array<Test, 4> placement_tests{check_by_unmoved_pawn, pawn_structure,
                                              promotions_without_captures, locked_men};

void add(Found& found, Finding finding) {
    if (finding) {
        found.push_back(std::move(*finding));
    }
}

bool shown_illegal(const Found& found) {
    return std::any_of(found.begin(), found.end(),
                       [](const Contradiction& c) { return c.grade == Grade::illegal; });
}

/// Linear in the board; what comes later expects these to hold.
void basic_tests(const Setup& diagram, Found& found) {
    find_king_faults(diagram, found);
    add(found, pawn_on_last_rank(diagram));
    if (!found.empty()) {
        return;
    }
    add(found, opponent_in_check(diagram));
    for (const Color color : both_colors) {
        add(found, too_many_men(diagram, color));
    }
    add(found, three_checkers(diagram));
}

/// R3: a contradiction that goes when the castling rights go is the rights' fault.
Contradiction blame_rights(const Setup& diagram, Test test, Contradiction contradiction) {
    if (diagram.castling.empty()) {
        return contradiction;
    }
    Setup bare = diagram;
    bare.castling = {};
    if (test(bare)) {
        return contradiction;
    }
    std::vector<Setup> mended;
    for (const Color color : both_colors) {
        for (const board::CastlingSide side : both_sides) {
            Setup other = diagram;
            other.castling.remove(color, side);
            if (other.castling != diagram.castling && !test(other)) {
                mended.push_back(other);
            }
        }
    }
    contradiction.rule = Rule::castling_rights;
    contradiction.code = "R3";
    contradiction.grade = Grade::field;
    contradiction.why += ", if the castling rights are right";
    if (mended.size() == 1) {
        contradiction.repaired = mended.front();
    }
    return contradiction;
}

/// One reason is enough: tests that fail together mostly speak of the same men.
void structure_tests(Setup& diagram, Found& found) {
    for (const Test test : placement_tests) {
        Finding finding = test(diagram);
        if (!finding) {
            continue;
        }
        found.push_back(blame_rights(diagram, test, std::move(*finding)));
        if (found.back().grade == Grade::field) {
            diagram.castling = {};
            add(found, placement(diagram));
        }
        return;
    }
}

/// A shuffled start is one of many arrays, and castling leads to g1 and c1 from anywhere.
bool may_have_started_or_castled(const Setup& diagram) {
    const Color mover = !diagram.turn;
    const auto stand = [&](int king, int rook) {
        return diagram.pieces(mover, board::Role::king).contains(home_square(mover, king)) &&
               diagram.pieces(mover, board::Role::rook).contains(home_square(mover, rook));
    };
    constexpr board::Bitboard homes =
        board::rank_bits(0) | board::rank_bits(1) | board::rank_bits(6) | board::rank_bits(7);
    return diagram.occupied() == homes || stand(6, 5) || stand(2, 3);
}

/// A check that no move gives is seen sooner than a count of captures, and that sooner than what lies further
/// back.
void past_tests(const Setup& diagram, Found& found) {
    if (shown_illegal(found)) {
        return;
    }
    const bool shuffled = diagram.home.is_shuffled();
    if (shuffled && may_have_started_or_castled(diagram)) {
        return;
    }
    const Finding at_once = no_last_move(diagram);
    add(found, at_once);
    if (!shown_illegal(found)) {
        add(found, promotions_past_pawns(diagram));
    }
    if (!shuffled && !at_once && !shown_illegal(found)) {
        add(found, earlier_moves(diagram));
    }
}

void game_over_tests(const Setup& diagram, Found& found) {
    const auto position = board::Position::from(diagram);
    if (!position) {
        return;
    }
    const auto fact = [&](const char* code, std::string why) {
        found.push_back({Rule::game_over, code, Grade::suspicion, std::move(why), {}, {}});
    };
    if (!position->has_legal_move()) {
        const board::Square king = position->king(diagram.turn);
        fact("G1",
             fmt::format("the {} king on {} is {}, with {} to move: the game is over", name(diagram.turn),
                         name(king), position->in_check() ? "mated" : "stalemated", side_name(diagram.turn)));
        found.back().squares = to_squares(position->checkers() | king);
    } else if (position->is_dead()) {
        fact("G2", fmt::format("neither side can ever mate with the {}: the game is over",
                               men_text(diagram, diagram.occupied())));
        found.back().squares = to_squares(diagram.occupied());
    }
}

/// Men are left out: nothing is asked that a man more could answer.
Found examine_partial(const Setup& diagram) {
    Found found;
    find_king_faults(diagram, found);
    std::erase_if(found, [](const Contradiction& c) { return c.code == "K1" && c.squares.empty(); });
    add(found, pawn_on_last_rank(diagram));
    if (!found.empty()) {
        return found;
    }
    if (diagram.pieces(!diagram.turn, board::Role::king).any()) {
        add(found, opponent_in_check(diagram));
    }
    Setup mended = board::without_field_faults(diagram);
    for (const Color color : both_colors) {
        add(found, too_many_men(diagram, color));
    }
    if (!shown_illegal(found)) {
        add(found, check_by_unmoved_pawn(mended));
        for (const Color color : both_colors) {
            add(found, pawns_without_homes(mended, color));
        }
    }
    if (!shown_illegal(found)) {
        if (Finding finding = locked_men(mended)) {
            found.push_back(blame_rights(mended, locked_men, std::move(*finding)));
        }
    }
    add(found, rights_without_men(diagram));
    add(found, en_passant_square(diagram));
    find_clock_faults(mended, found);
    return found;
}

Found examine(const Setup& diagram, Extent extent) {
    if (extent == Extent::partial) {
        return examine_partial(diagram);
    }
    Found found;
    basic_tests(diagram, found);
    if (shown_illegal(found)) {
        return found;
    }
    // Fields that contradict the placement outright are reported, then left out of account.
    Setup mended = board::without_field_faults(diagram);
    structure_tests(mended, found);
    add(found, rights_without_men(diagram));
    add(found, en_passant_square(diagram));
    find_clock_faults(mended, found);
    add(found, turn_against_tempo(mended));
    past_tests(mended, found);
    if (!shown_illegal(found)) {
        game_over_tests(mended, found);
    }
    return found;
}

/// The same diagram with the other side to move, if nothing speaks against that one.
std::optional<Setup> other_turn(const Setup& diagram, Extent extent) {
    Setup other = flipped(diagram);
    other.castling = board::without_field_faults(diagram).castling;
    const Found found = examine(other, extent);
    const bool blameless = std::all_of(found.begin(), found.end(), [](const Contradiction& c) {
        return c.grade == Grade::suspicion && c.rule != Rule::game_over;
    });
    return blameless ? std::optional(flipped(diagram)) : std::nullopt;
}

} // namespace

Finding placement(const Setup& diagram) {
    for (const Test test : placement_tests) {
        if (Finding finding = test(diagram)) {
            return finding;
        }
    }
    return std::nullopt;
}

bool placement_can_arise(const Setup& diagram) {
    return pawns_can_stand(diagram) && !check_by_unmoved_pawn(diagram) &&
           !promotions_without_captures(diagram) && !locked_men(diagram);
}

Found contradictions(const Setup& diagram, Extent extent) {
    Found found = examine(diagram, extent);
    for (Contradiction& contradiction : found) {
        const bool about_the_turn = contradiction.rule == Rule::opponent_in_check ||
                                    contradiction.rule == Rule::no_last_move || contradiction.code == "B1";
        if (about_the_turn) {
            contradiction.repaired = other_turn(diagram, extent);
        }
    }
    return found;
}

} // namespace setup
