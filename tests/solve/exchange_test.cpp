// Exchanges on one square against playing them out on the board.

#include "positions.hpp"
#include "solve/exchange.hpp"

using board::Color;
using board::Move;
using board::Position;
using board::Square;
using namespace solve_test;
using solve::exchange_gain;
using solve::exchange_value;

namespace {

#ifdef NDEBUG
constexpr int games = 120;
#else
constexpr int games = 12;
#endif

/// Legal captures on `square`; promotions to a queen only.
std::vector<Move> takes(const Position& position, Square square) {
    std::vector<Move> found;
    for (const Move m : position.legal_moves()) {
        const bool underpromotes = m.is_promotion() && m.promotes_to() != board::Role::queen;
        if (m.to() == square && position.at(square) && !underpromotes) {
            found.push_back(m);
        }
    }
    return found;
}

int price(const Position& position, Move move) {
    const int role = board::value_of(position.at(move.from())->role);
    return role == 0 ? 100 : role; // a king comes last
}

int taken(const Position& position, Move move) {
    return board::value_of(*position.captured(move)) + (move.is_promotion() ? 8 : 0);
}

/// A play on one square. What it brings depends on the choice among equal men, hence two figures; `clear`
/// when no check from elsewhere disturbed it.
struct Gain {
    int least = 0;
    int most = 0;
    bool clear = true;
};

bool checked_from_elsewhere(const Position& position, Square square) {
    return (position.checkers() & ~board::Bitboard(square)).any();
}

/// Best gain for the side to move: cheapest first, or not at all.
Gain play_out(const Position& position, Square square) {
    const std::vector<Move> all = takes(position, square);
    Gain gain;
    gain.clear = !checked_from_elsewhere(position, square);
    if (all.empty()) {
        return gain;
    }
    int cheapest = 1000;
    for (const Move m : all) {
        cheapest = std::min(cheapest, price(position, m));
    }
    gain.least = 1000;
    for (const Move m : all) {
        if (price(position, m) == cheapest) {
            const Gain next = play_out(position.after(m), square);
            const int man = taken(position, m);
            gain.clear = gain.clear && next.clear;
            gain.least = std::min(gain.least, std::max(0, man - next.most));
            gain.most = std::max(gain.most, std::max(0, man - next.least));
        }
    }
    return gain;
}

/// The same with every choice of man and every stop allowed.
int best_of_all(const Position& position, Square square) {
    int best = 0;
    for (const Move m : takes(position, square)) {
        best = std::max(best, taken(position, m) - best_of_all(position.after(m), square));
    }
    return best;
}

} // namespace

TEST_CASE("along random games the gain on every square is what playing it out brings") {
    int compared = 0;
    int rich = 0; // more than one man takes part
    int no_better = 0;
    walk(41, games, 80, [&](const Position& current) {
        for (const Color side : {Color::white, Color::black}) {
            const auto at = with_turn(current, side);
            if (!at || at->in_check()) {
                continue;
            }
            for (const Square square : at->pieces(!side) & ~board::Bitboard(at->king(!side))) {
                const Gain gain = play_out(*at, square);
                if (!gain.clear) {
                    continue;
                }
                INFO(fen(*at) << " on " << board::name(square));
                const int found = exchange_gain(*at, square, side);
                CHECK(found >= gain.least);
                CHECK(found <= gain.most);
                const std::vector<Move> all = takes(*at, square);
                ++compared;
                rich += all.size() > 1 || (!all.empty() && !takes(at->after(all[0]), square).empty()) ? 1 : 0;
                no_better += best_of_all(*at, square) <= gain.most ? 1 : 0;
            }
        }
    });
    CHECK(compared > 100 * games);
    CHECK(rich > 4 * games);
    // Taking with the cheapest man first is nearly always best.
    CHECK(100 * no_better >= 98 * compared);
}

TEST_CASE("along random games the value of every move is what it takes less what is taken back") {
    int compared = 0;
    walk(43, games / 2, 80, [&](const Position& at) {
        if (at.in_check()) {
            return;
        }
        for (const Move m : at.legal_moves()) {
            const Position after = at.after(m);
            const Gain back = play_out(after, m.to());
            if (!back.clear || m.kind() == board::MoveKind::castling) {
                continue;
            }
            INFO(fen(at) << " " << board::write_coordinate(m));
            const auto man = at.captured(m);
            const int won = (man ? board::value_of(*man) : 0) +
                            (m.is_promotion() ? board::value_of(m.promotes_to()) - 1 : 0);
            const int found = exchange_value(at, m);
            CHECK(found >= won - back.most);
            CHECK(found <= won - back.least);
            ++compared;
        }
    });
    CHECK(compared > 300 * games);
}

TEST_CASE("exchanges known by counting") {
    struct Counted {
        const char* what;
        const char* fen;
        Square square;
        Color side;
        int gain;
    };
    const auto counted = GENERATE(values<Counted>({
        {"loose", "4k3/8/8/3n4/8/1B6/8/4K3 w - - 0 1", Square::d5, Color::white, 3},
        {"guarded by a pawn", "4k3/8/4p3/3n4/8/1B6/8/4K3 w - - 0 1", Square::d5, Color::white, 0},
        {"pawn takes a guarded knight", "4k3/8/4p3/3n4/2P5/8/8/4K3 w - - 0 1", Square::d5, Color::white, 2},
        {"a rook for a guarded pawn is not taken", "4k3/8/4p3/3p4/8/8/8/3RK3 w - - 0 1", Square::d5,
         Color::white, 0},
        {"two attackers, one guard", "3r2k1/5ppp/8/3n4/8/1B6/5PPP/3R2K1 w - - 0 1", Square::d5, Color::white,
         3},
        {"doubled rooks behind each other", "3r2k1/8/8/3p4/8/8/3R4/3R2K1 w - - 0 1", Square::d5, Color::white,
         1},
        {"the queen behind the rook does not pay", "3r2k1/3r4/8/3p4/8/8/3R4/3Q2K1 w - - 0 1", Square::d5,
         Color::white, 0},
        {"a king may take what is loose", "4k3/3P4/8/8/8/8/8/4K3 b - - 0 1", Square::d7, Color::black, 1},
        {"a king may not take what is guarded", "4k3/3P4/8/1B6/8/8/8/4K3 b - - 0 1", Square::d7, Color::black,
         0},
        {"taking with promotion", "3r3k/2P5/8/8/8/8/8/4K3 w - - 0 1", Square::d8, Color::white, 13},
        {"taking with promotion, taken back", "2qr3k/4P3/8/8/8/8/8/4K3 w - - 0 1", Square::d8, Color::white,
         4},
        {"nobody stands there", "4k3/8/8/8/8/1B6/8/4K3 w - - 0 1", Square::d5, Color::white, 0},
        {"an own man stands there", "4k3/8/8/3N4/8/1B6/8/4K3 w - - 0 1", Square::d5, Color::white, 0},
        {"a king is never to be had", "4k3/8/8/8/8/8/8/4RK2 b - - 0 1", Square::e8, Color::white, 0},
        {"side not to move", "4k3/8/8/3n4/8/1B6/8/4K3 b - - 0 1", Square::d5, Color::white, 3},
    }));
    INFO(counted.what << ": " << counted.fen);
    CHECK(exchange_gain(position(counted.fen), counted.square, counted.side) == counted.gain);
}

TEST_CASE("a pinned guard does not count") {
    // The knight on e7 guards d5 and stands before its king on the e-file.
    CHECK(exchange_gain(position("4k3/4n3/8/3p4/8/1B6/8/4RK2 w - - 0 1"), Square::d5, Color::white) == 1);
    CHECK(exchange_gain(position("3k4/4n3/8/3p4/8/1B6/8/4RK2 w - - 0 1"), Square::d5, Color::white) == 0);
    // Along the line of the pin it may take.
    CHECK(exchange_gain(position("4k3/4r3/8/8/4P3/8/8/4RK2 b - - 0 1"), Square::e1, Color::black) == 0);
    CHECK(exchange_gain(position("4k3/4r3/8/8/8/8/8/4RK2 b - - 0 1"), Square::e1, Color::black) == 0);
    CHECK(exchange_gain(position("4k3/4r3/8/8/8/5K2/8/4R3 b - - 0 1"), Square::e1, Color::black) == 5);
}

TEST_CASE("en passant and promotion in the value of a move") {
    const Position passing = position("4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1");
    CHECK(exchange_value(passing, move(passing, "exd6")) == 1);
    const Position guarded = position("4k3/2p5/8/3pP3/8/8/8/4K3 w - d6 0 1");
    CHECK(exchange_value(guarded, move(guarded, "exd6")) == 0);
    const Position queening = position("7k/2P5/8/8/8/8/8/4K3 w - - 0 1");
    CHECK(exchange_value(queening, move(queening, "c8=Q+")) == 8);
    CHECK(exchange_value(queening, move(queening, "c8=N")) == 2);
    const Position watched = position("3r3k/2P5/8/8/8/8/8/4K3 w - - 0 1");
    CHECK(exchange_value(watched, move(watched, "c8=Q")) == -1);
}

TEST_CASE("the balance counts men, not places") {
    using solve::balance;
    CHECK(balance(Position(), Color::white) == 0);
    const Position exchange_up = position("2n3k1/5ppp/8/8/8/8/5PPP/R5K1 w - - 0 1");
    CHECK(balance(exchange_up, Color::white) == 2);
    CHECK(balance(exchange_up, Color::black) == -2);
    const Position queens = position("q6k/8/8/8/8/8/PPP5/RB4K1 b - - 0 1");
    CHECK(balance(queens, Color::white) == 2);
    walk(47, 20, 60, [](const Position& at) {
        CHECK(balance(at, Color::white) == -balance(at, Color::black));
        CHECK(balance(mirrored(at), Color::black) == balance(at, Color::white));
        for (const Move m : at.legal_moves()) {
            const auto man = at.captured(m);
            const int won = (man ? board::value_of(*man) : 0) +
                            (m.is_promotion() ? board::value_of(m.promotes_to()) - 1 : 0);
            if (balance(at.after(m), at.turn()) != balance(at, at.turn()) + won) {
                FAIL(fen(at) << " " << board::write_coordinate(m));
            }
        }
    });
}
