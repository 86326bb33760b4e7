#include "setup/diagram.hpp"

#include "board/attacks.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace setup {

using board::Bitboard;
using board::Color;
using board::Piece;
using board::Role;
using board::Setup;
using board::Square;

Bitboard attackers(const Setup& diagram, Square square, Color by) {
    const Bitboard occupied = diagram.occupied();
    const auto of = [&](Role role) { return diagram.by_role[index(role)]; };
    const Bitboard queens = of(Role::queen);
    return diagram.pieces(by) & ((board::king_attacks(square) & of(Role::king)) |
                                 (board::knight_attacks(square) & of(Role::knight)) |
                                 (board::pawn_attacks(!by, square) & of(Role::pawn)) |
                                 (board::bishop_attacks(square, occupied) & (of(Role::bishop) | queens)) |
                                 (board::rook_attacks(square, occupied) & (of(Role::rook) | queens)));
}

Bitboard checkers(const Setup& diagram, Color color) {
    return attackers(diagram, diagram.pieces(color, Role::king).first(), !color);
}

bool is_initial_placement(const Setup& diagram) {
    constexpr Bitboard white = board::rank_bits(0) | board::rank_bits(1);
    constexpr Bitboard black = board::rank_bits(6) | board::rank_bits(7);
    constexpr auto on_files = [](int a, int b) {
        return (board::file_bits(a) | board::file_bits(b)) & (board::rank_bits(0) | board::rank_bits(7));
    };
    const std::array<Bitboard, 6> roles{board::rank_bits(1) | board::rank_bits(6),
                                        on_files(1, 6),
                                        on_files(2, 5),
                                        on_files(0, 7),
                                        on_files(3, 3),
                                        on_files(4, 4)};
    return diagram.by_color[0] == white && diagram.by_color[1] == black && diagram.by_role == roles;
}

bool has_any_right(const Setup& diagram, Color color) {
    return diagram.castling.has(color, board::CastlingSide::king) ||
           diagram.castling.has(color, board::CastlingSide::queen);
}

Setup flipped(const Setup& diagram) {
    Setup other = diagram;
    other.turn = !diagram.turn;
    return other;
}

Bitboard held_by_rights(const Setup& diagram, Color color) {
    Bitboard held;
    for (const board::CastlingSide side : both_sides) {
        if (diagram.castling.has(color, side)) {
            held |= Bitboard(diagram.home.king(color)) | diagram.home.rook(color, side);
        }
    }
    return held;
}

Bitboard homes(Color color, Role role) {
    const auto on = [&](int a, int b) { return Bitboard(home_square(color, a)) | home_square(color, b); };
    switch (role) {
    case Role::knight:
        return on(1, 6);
    case Role::bishop:
        return on(2, 5);
    case Role::rook:
        return on(0, 7);
    case Role::queen:
        return Bitboard(home_square(color, 3));
    case Role::king:
        return Bitboard(home_square(color, 4));
    case Role::pawn:
        break;
    }
    return {};
}

std::string_view side_name(Color color) {
    return color == Color::white ? "White" : "Black";
}

std::string join(std::span<const std::string> parts) {
    std::string text;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (i > 0) {
            text += i + 1 == parts.size() ? " and " : ", ";
        }
        text += parts[i];
    }
    return text;
}

std::string squares_text(Bitboard squares) {
    std::vector<std::string> names;
    for (const Square square : squares) {
        names.push_back(name(square));
    }
    return join(names);
}

std::string man_text(const Setup& diagram, Square square) {
    const std::optional<Piece> piece = diagram.at(square);
    return fmt::format("{} on {}", piece ? name(piece->role) : "man", name(square));
}

std::string men_text(const Setup& diagram, Bitboard men) {
    std::vector<std::string> groups;
    for (auto role = board::all_roles.rbegin(); role != board::all_roles.rend(); ++role) {
        const Bitboard group = men & diagram.by_role[index(*role)];
        if (group.any()) {
            groups.push_back(
                fmt::format("{}{} on {}", name(*role), group.many() ? "s" : "", squares_text(group)));
        }
    }
    return join(groups);
}

std::string pawns_text(Bitboard pawns) {
    return fmt::format("pawn{} on {}", pawns.many() ? "s" : "", squares_text(pawns));
}

std::string count_text(int count, std::string_view noun) {
    return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

std::vector<Square> to_squares(Bitboard squares) {
    std::vector<Square> list;
    for (const Square square : squares) {
        list.push_back(square);
    }
    return list;
}

} // namespace setup
