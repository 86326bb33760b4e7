#pragma once
// Positions for the tests of this room: from text, along fixed random games, and drawn at random.

#include "solve/solver.hpp"

#include "from_text.hpp"

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace solve_test {

using from_text::fen;
using from_text::move;
using from_text::position;

#ifdef NDEBUG
inline constexpr int share = 1;
#else
inline constexpr int share = 8; // unoptimised builds look at one position in so many
#endif

/// SAN of the moves, sorted: sets compare and print well.
template <class Moves> std::vector<std::string> sans(const board::Position& position, const Moves& moves) {
    std::vector<std::string> texts;
    for (const board::Move m : moves) {
        texts.push_back(board::write_san(position, m));
    }
    std::sort(texts.begin(), texts.end());
    return texts;
}

/// Every move legal in turn; the position at the end, or nothing.
inline std::optional<board::Position> play(board::Position position, const solve::Line& line) {
    for (const board::Move m : line) {
        if (!position.is_legal(m)) {
            return std::nullopt;
        }
        position.make(m);
    }
    return position;
}

/// The same diagram with the other side to move and no en-passant square; nothing when that cannot be played.
inline std::optional<board::Position> with_turn(const board::Position& position, board::Color turn) {
    board::Setup setup = position.setup();
    setup.turn = turn;
    setup.en_passant.reset();
    const auto made = board::Position::from(setup);
    return made.ok() ? std::optional(*made) : std::nullopt;
}

/// Ranks turned over and colours exchanged, side to move, rights and en-passant square with them.
inline board::Position mirrored(const board::Position& position) {
    const board::Setup setup = position.setup();
    board::Setup other;
    for (int i = 0; i < 64; ++i) {
        if (const auto piece = setup.at(board::square_at(i))) {
            other.put(board::square_at(i ^ 56), {!piece->color, piece->role});
        }
    }
    other.turn = !setup.turn;
    for (const auto side : {board::CastlingSide::king, board::CastlingSide::queen}) {
        for (const auto color : {board::Color::white, board::Color::black}) {
            if (setup.castling.has(color, side)) {
                other.castling.add(!color, side);
            }
        }
    }
    if (setup.en_passant) {
        other.en_passant = board::square_at(board::index(*setup.en_passant) ^ 56);
    }
    const auto made = board::Position::from(other);
    REQUIRE(made.ok());
    return *made;
}

/// A small generator of numbers, the same on every machine (a counter whose bits are mixed).
class Random {
  public:
    explicit Random(std::uint64_t seed) : m_state(seed) {}
    std::uint64_t next() {
        m_state += 0x9e3779b97f4a7c15;
        std::uint64_t z = m_state;
        z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9;
        z = (z ^ (z >> 27U)) * 0x94d049bb133111eb;
        return z ^ (z >> 31U);
    }
    std::size_t below(std::size_t bound) { return static_cast<std::size_t>(next() % bound); }

  private:
    std::uint64_t m_state;
};

/// Calls `visit(position)` at every ply of random games from several starts.
template <class Visit> void walk(std::uint64_t seed, int games, int plies, Visit visit) {
    static constexpr std::string_view starts[] = {
        "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
        "r3k2r/p1q2p1p/8/3pP3/8/8/P1Q2P1P/R3K2R w KQkq d6 0 20",
        "8/1PP2k2/8/2K5/8/5n2/4p1p1/2B5 w - - 0 50",
        "4k2r/5ppp/8/8/2q5/8/PPP2Q2/R3K3 w Qk - 0 20",
    };
    Random random(seed);
    for (int game = 0; game < games; ++game) {
        board::Position current = position(starts[static_cast<std::size_t>(game) % std::size(starts)]);
        for (int ply = 0; ply < plies; ++ply) {
            visit(current);
            const board::MoveList moves = current.legal_moves();
            if (moves.empty()) {
                break;
            }
            current.make(moves[random.below(moves.size())]);
        }
    }
}

/// The men named by their letters on random squares, the kings not in the middle; nothing when that cannot be
/// played.
inline std::optional<board::Position> diagram(Random& random, std::string_view men, board::Color turn) {
    board::Setup setup;
    setup.turn = turn;
    for (const char letter : men) {
        const auto piece = board::read_piece(letter);
        REQUIRE(piece.has_value());
        board::Square square{};
        int rank = 0;
        do {
            square = board::square_at(static_cast<int>(random.below(64)));
            rank = board::rank_of(square);
        } while (setup.at(square) || (piece->role == board::Role::pawn && (rank == 0 || rank == 7)) ||
                 (letter == 'k' && rank > 0 && rank < 7));
        setup.put(square, *piece);
    }
    const auto made = board::Position::from(setup);
    return made.ok() ? std::optional(*made) : std::nullopt;
}

/// Enough for every short mate asked about here.
inline constexpr solve::Budget ample{.mate = 400'000,
                                     .value = 100'000,
                                     .question = 60'000,
                                     .puzzle = 800'000,
                                     .mate_moves = 3,
                                     .table_men = 0,
                                     .depth = 6};

} // namespace solve_test
