#include "solve/endgame_first_look.hpp"

#include <algorithm>

namespace solve::endgame {

using board::Bitboard, board::Color, board::Piece, board::Role, board::Square;

/// The men on the board, seen from the side to move.
struct Examiner::Scene {
    const Placement& placement;
    Bitboard own;
    Bitboard enemy;
    Bitboard attacked; ///< by the enemy, our king out of the way
    Bitboard checkers;
    [[nodiscard]] Bitboard occupied() const { return own | enemy; }
    [[nodiscard]] Square our_king() const { return placement.at[index(placement.turn)]; }
};

/// What the moves looked at so far lead to.
struct Examiner::Tally {
    int quiet = 0;
    std::uint8_t double_step = 0;
    bool draws = false;
    Code best_win = drawn;
    Code longest_loss = drawn;
    void conversion(Code child) {
        if (loses(child)) {
            const Code win = code_of(plies_of(child) + 1);
            best_win = best_win == drawn ? win : std::min(best_win, win);
        } else if (wins(child)) {
            longest_loss = std::max(longest_loss, code_of(plies_of(child) + 1));
        } else {
            draws = true;
        }
    }
};

namespace {

Bitboard attacks_of(Piece man, Square from, Bitboard occupied) {
    return man.role == Role::pawn ? board::pawn_attacks(man.color, from) : reach(man.role, from, occupied);
}

Square step(Color color, Square from, int ranks) {
    return board::square_at(index(from) + (color == Color::white ? 8 : -8) * ranks);
}

} // namespace

Examiner::Examiner(const Material& material, const Source& source)
    : m_material(material), m_men{Piece{Color::white, Role::king}, Piece{Color::black, Role::king},
                                  material.men[0], material.men[1]},
      m_conversions(material, source) {}

/// Nothing when the position is impossible.
std::optional<Examiner::Scene> Examiner::scene(const Placement& placement) const {
    Scene scene{placement, {}, {}, {}, {}};
    for (std::size_t i = 0; i < men(); ++i) {
        if (scene.occupied().contains(placement.at[i])) {
            return std::nullopt;
        }
        (m_men[i].color == placement.turn ? scene.own : scene.enemy) |= placement.at[i];
    }
    const Square our_king = scene.our_king();
    const Square their_king = placement.at[index(!placement.turn)];
    const Bitboard without_king = scene.occupied() ^ our_king;
    scene.attacked = board::king_attacks(their_king);
    for (std::size_t i = 2; i < men(); ++i) {
        if (m_men[i].color == placement.turn) {
            if (attacks_of(m_men[i], placement.at[i], scene.occupied()).contains(their_king)) {
                return std::nullopt;
            }
            continue;
        }
        const Bitboard attacks = attacks_of(m_men[i], placement.at[i], without_king);
        scene.attacked |= attacks;
        if (attacks.contains(our_king)) {
            scene.checkers |= placement.at[i];
        }
    }
    return scene;
}

FirstLook Examiner::look(const Placement& placement) const {
    const std::optional<Scene> seen = scene(placement);
    if (!seen) {
        return {impossible, drawn, FirstLook::never, 0};
    }
    Tally tally;
    king(*seen, tally);
    for (std::size_t i = 2; i < men() && !seen->checkers.many(); ++i) {
        if (m_men[i].color == placement.turn) {
            m_men[i].role == Role::pawn ? pawn(*seen, i, tally) : officer(*seen, i, tally);
        }
    }
    FirstLook look{drawn, drawn, FirstLook::never, tally.double_step};
    if (tally.best_win != drawn) {
        look.event = tally.best_win;
    } else if (!tally.draws) {
        look.event = tally.longest_loss;
        look.open = static_cast<std::uint8_t>(tally.quiet + (tally.longest_loss != drawn ? 1 : 0));
        look.code = look.open == 0 && seen->checkers.any() ? code_of(0) : drawn;
    }
    return look;
}

void Examiner::king(const Scene& scene, Tally& tally) const {
    const Bitboard targets = board::king_attacks(scene.our_king()) & ~scene.own & ~scene.attacked;
    tally.quiet += (targets & ~scene.enemy).count();
    for (const Square to : targets& scene.enemy) {
        convert(scene, index(scene.placement.turn), to, {}, tally);
    }
}

/// Squares a man can go to without leaving his king in check.
Bitboard Examiner::allowed(const Scene& scene, std::size_t number) const {
    const Square king = scene.our_king();
    Bitboard squares(~std::uint64_t{0});
    if (scene.checkers.any()) {
        squares = scene.checkers | between(king, scene.checkers.first());
    }
    for (std::size_t i = 2; i < men(); ++i) {
        const Square from = scene.placement.at[i];
        if (m_men[i].color == scene.placement.turn || scene.checkers.contains(from)) {
            continue;
        }
        const Bitboard without = scene.occupied() ^ scene.placement.at[number];
        if (attacks_of(m_men[i], from, without).contains(king)) {
            squares &= Bitboard(from) | between(king, from);
        }
    }
    return squares;
}

void Examiner::officer(const Scene& scene, std::size_t number, Tally& tally) const {
    const Bitboard targets = reach(m_men[number].role, scene.placement.at[number], scene.occupied()) &
                             ~scene.own & allowed(scene, number);
    tally.quiet += (targets & ~scene.enemy).count();
    for (const Square to : targets& scene.enemy) {
        convert(scene, number, to, {}, tally);
    }
}

void Examiner::pawn(const Scene& scene, std::size_t number, Tally& tally) const {
    const Color us = scene.placement.turn;
    const Square from = scene.placement.at[number];
    const Bitboard squares = allowed(scene, number);
    const bool promotes = relative_rank(us, from) == 6;
    for (const Square to : board::pawn_attacks(us, from) & scene.enemy & squares) {
        promotes ? promotions(scene, number, 0, to, tally) : convert(scene, number, to, {}, tally);
    }
    const Square next = step(us, from, 1);
    if (scene.occupied().contains(next)) {
        return;
    }
    if (promotes) {
        if (squares.contains(next)) {
            promotions(scene, number, 0, next, tally);
        }
        return;
    }
    tally.quiet += squares.contains(next) ? 1 : 0;
    if (relative_rank(us, from) == 1) {
        const Square second = step(us, from, 2);
        if (!scene.occupied().contains(second) && squares.contains(second)) {
            ++tally.quiet;
            tally.double_step = static_cast<std::uint8_t>(number);
        }
    }
}

void Examiner::promotions(const Scene& scene, std::size_t number, std::size_t captured, Square to,
                          Tally& tally) const {
    for (const Role role : {Role::knight, Role::bishop, Role::rook, Role::queen}) {
        convert(scene, number, to, {captured, number, role}, tally);
    }
}

/// A legal move of man `number` that captures what stands on `to`, promotes, or both.
void Examiner::convert(const Scene& scene, std::size_t number, Square to, const Change& change,
                       Tally& tally) const {
    Placement next = scene.placement;
    Change whole = change;
    for (std::size_t i = 2; i < men(); ++i) {
        if (next.at[i] == to) {
            whole.captured = i;
        }
    }
    next.at[number] = to;
    next.turn = !next.turn;
    tally.conversion(m_conversions.after(next, whole));
}

std::optional<Code> Examiner::taken_in_passing(const Placement& after, std::size_t number) const {
    const Color stepper = !after.turn;
    const Square passed = step(stepper, after.at[number], -1);
    for (std::size_t i = 2; i < men(); ++i) {
        if (m_men[i] != Piece{after.turn, Role::pawn} ||
            !board::pawn_attacks(stepper, passed).contains(after.at[i])) {
            continue;
        }
        Placement taken = after;
        taken.at[i] = passed;
        taken.turn = stepper;
        const Code code = m_conversions.after(taken, {number, 0});
        return loses(code) ? code_of(plies_of(code) + 2) : drawn;
    }
    return std::nullopt;
}

} // namespace solve::endgame
