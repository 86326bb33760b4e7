#include "positions.hpp"

#include "board/perft.hpp"

using namespace board;
using board_test::move;
using board_test::position;

namespace {

std::vector<std::string> spelt(const Position& position, const MoveList& moves) {
    std::vector<std::string> all;
    for (const Move m : moves) {
        all.push_back(write_san(position, m));
    }
    std::sort(all.begin(), all.end());
    return all;
}

std::vector<std::string> legal(const std::string& fen) {
    const Position current = position(fen);
    return spelt(current, current.legal_moves());
}

bool may(const std::string& fen, const std::string& san) {
    const std::vector<std::string> moves = legal(fen);
    return std::find(moves.begin(), moves.end(), san) != moves.end();
}

} // namespace

TEST_CASE("castling needs rights, a free path and no attack on the king's way (FIDE Laws 3.8.2)") {
    CHECK(may("4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "O-O"));
    CHECK(may("4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "O-O-O"));
    CHECK_FALSE(may("4k3/8/8/8/8/8/8/R3K2R w Q - 0 1", "O-O"));
    CHECK_FALSE(may("4k3/8/8/8/8/8/8/R3KB1R w KQ - 0 1", "O-O"));
    CHECK_FALSE(may("4k3/8/8/8/8/8/8/RN2K2R w KQ - 0 1", "O-O-O"));
    CHECK_FALSE(may("4kr2/8/8/8/8/8/8/R3K2R w KQ - 0 1", "O-O"));
    CHECK_FALSE(may("4k1r1/8/8/8/8/8/8/R3K2R w KQ - 0 1", "O-O"));
    CHECK_FALSE(may("4k3/4r3/8/8/8/8/8/R3K2R w KQ - 0 1", "O-O"));
    CHECK(may("4k2r/8/8/8/8/8/8/R3K2R w KQ - 0 1", "O-O"));
    CHECK(may("1r2k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "O-O-O"));
    CHECK_FALSE(may("3rk3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "O-O-O"));
    CHECK(may("r3k2r/8/8/8/8/8/8/4K3 b kq - 0 1", "O-O"));
    CHECK_FALSE(may("r3k2r/8/8/8/8/7B/8/4K3 b kq - 0 1", "O-O-O"));
}

TEST_CASE("castling moves both men and a captured or moved rook loses the right") {
    Position current = position("r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1");
    CHECK(write_fen(current.after(move(current, "O-O")).setup()) == "r3k2r/8/8/8/8/8/8/R4RK1 b kq - 1 1");
    CHECK(write_fen(current.after(move(current, "O-O-O")).setup()) == "r3k2r/8/8/8/8/8/8/2KR3R b kq - 1 1");
    CHECK(write_fen(current.after(move(current, "Rxh8+")).setup()) == "r3k2R/8/8/8/8/8/8/R3K3 b Qq - 0 1");
    CHECK(write_fen(current.after(move(current, "Ke2")).setup()) == "r3k2r/8/8/8/8/8/4K3/R6R b kq - 1 1");
}

TEST_CASE("en passant is offered only when it is fully legal") {
    CHECK(position("4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1").en_passant() == Square::d6);
    // Both pawns leave the rank between king and rook.
    CHECK_FALSE(position("8/8/8/K2pP2r/8/8/8/4k3 w - d6 0 1").en_passant());
    // The capturing pawn is pinned on its file; on the diagonal of the capture it may go.
    CHECK_FALSE(position("4r1k1/8/8/3pP3/8/8/8/4K3 w - d6 0 1").en_passant());
    CHECK(position("6k1/2b5/8/3pP3/5K2/8/8/8 w - d6 0 1").en_passant() == Square::d6);
    CHECK(position("1b4k1/8/8/3pP3/8/8/8/4K3 w - d6 0 1").en_passant() == Square::d6);
    // One of two capturing pawns is pinned: the other may take.
    const std::string two = "4r1k1/8/8/2PpP3/8/8/8/4K3 w - d6 0 1";
    CHECK(may(two, "cxd6"));
    CHECK_FALSE(may(two, "exd6"));
    // Taking the pawn that has just given check.
    CHECK(may("8/8/8/2k5/3Pp3/8/8/4K3 b - d3 0 1", "exd3"));
    // Nobody stands ready.
    CHECK_FALSE(position("rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1").en_passant());
    Position played;
    played.make(move(played, "e4"));
    CHECK_FALSE(played.en_passant());
    CHECK(played.same_as(position("rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1")));
    CHECK(played.hash() == position("rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1").hash());
}

TEST_CASE("a check is answered by king move, capture or block, a double check by the king alone") {
    CHECK(legal("k3r3/8/8/8/8/1B6/3P1P2/3QK1N1 w - - 0 1") ==
          std::vector<std::string>{"Be6", "Kf1", "Ne2", "Qe2"});
    CHECK(legal("4k3/8/8/8/8/3n4/8/R3KB2 w - - 0 1") ==
          std::vector<std::string>{"Bxd3", "Kd1", "Kd2", "Ke2"});
    const Position twice = position("4k3/8/3N4/8/8/8/8/4RK2 b - - 0 1");
    CHECK(twice.checkers().count() == 2);
    for (const Move m : twice.legal_moves()) {
        CHECK(m.from() == Square::e8);
    }
}

TEST_CASE("pinned men keep to the line of the pin") {
    const Position current = position("4r2k/8/8/q7/7b/8/3NRP2/4K3 w - - 0 1");
    CHECK(current.pinned(Color::white) == (Bitboard(Square::d2) | Square::e2 | Square::f2));
    CHECK(current.pinned(Color::black).empty());
    for (const Move m : current.legal_moves()) {
        CHECK(m.from() != Square::d2);
        CHECK((m.from() != Square::f2 || m.to() == Square::g3));
        CHECK((m.from() != Square::e2 || file_of(m.to()) == 4));
    }
    CHECK(current.passed()->pinned(Color::white) == current.pinned(Color::white));
}

TEST_CASE("mate, stalemate, dead positions and passing") {
    CHECK(position("R5k1/5ppp/8/8/8/8/8/4K3 b - - 0 1").is_checkmate());
    CHECK_FALSE(position("R5k1/5pp1/8/8/8/8/8/4K3 b - - 0 1").is_checkmate());
    CHECK(position("k7/2Q5/8/8/8/8/8/4K3 b - - 0 1").is_stalemate());
    CHECK_FALSE(position("k7/2Q5/8/8/8/8/8/4K3 w - - 0 1").is_stalemate());

    for (const char* dead :
         {"8/8/8/3k1K2/8/8/8/8 w - - 0 1", "8/8/8/3k1K2/8/8/8/B7 w - - 0 1", "8/8/8/3k1K2/8/8/8/n7 w - - 0 1",
          "b7/8/3k1K2/8/8/8/8/7B w - - 0 1", "b1b5/8/3k1K2/8/8/8/8/5B1B w - - 0 1"}) {
        CHECK(position(dead).is_dead());
    }
    for (const char* alive : {"8/8/8/3k1K2/8/8/8/NN6 w - - 0 1", "8/8/8/3k1K2/8/8/8/NB6 w - - 0 1",
                              "b7/8/8/3k1K2/8/8/8/B7 w - - 0 1", "8/8/8/3k1K2/8/8/P7/8 w - - 0 1",
                              "8/8/8/3k1K2/8/8/8/R7 w - - 0 1", "n7/8/8/3k1K2/8/8/8/B7 w - - 0 1"}) {
        CHECK_FALSE(position(alive).is_dead());
    }

    CHECK_FALSE(position("4k3/8/8/8/8/8/4r3/4K3 w - - 0 1").passed());
    const auto passed = position("4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 7").passed();
    REQUIRE(passed);
    CHECK(write_fen(passed->setup()) == "4k3/8/8/3pP3/8/8/8/4K3 b - - 1 7");
    CHECK(passed->hash() == position("4k3/8/8/3pP3/8/8/8/4K3 b - - 0 1").hash());
}

TEST_CASE("the hash tells apart what the repetition rule tells apart (FIDE Laws 9.2), and nothing else") {
    const std::string base = "r3k2r/8/8/3pP3/8/8/8/R3K2R w KQkq d6 0 9";
    std::vector<Hash> hashes{position(base).hash()};
    for (const char* other :
         {"r3k2r/8/8/3pP3/8/8/8/R3K2R w KQkq - 0 9", "r3k2r/8/8/3pP3/8/8/8/R3K2R b KQkq - 0 9",
          "r3k2r/8/8/3pP3/8/8/8/R3K2R w Qkq - 0 9", "r3k2r/8/8/3pP3/8/8/8/R3K2R w KQk - 0 9",
          "r3k2r/8/8/3pP3/8/8/8/R3K2R w - - 0 9", "r3k2r/8/8/3pP3/8/8/8/R3K1R1 w Qkq - 0 9"}) {
        hashes.push_back(position(other).hash());
        CHECK_FALSE(position(other).same_as(position(base)));
    }
    std::sort(hashes.begin(), hashes.end());
    CHECK(std::adjacent_find(hashes.begin(), hashes.end()) == hashes.end());
    CHECK(position("r3k2r/8/8/3pP3/8/8/8/R3K2R w KQkq d6 7 40").hash() == position(base).hash());

    Position there_and_back;
    for (const char* san : {"Nf3", "Nf6", "Ng1", "Ng8"}) {
        there_and_back.make(move(there_and_back, san));
    }
    CHECK(there_and_back.same_as(Position()));
    CHECK(there_and_back.hash() == Position().hash());
    CHECK(there_and_back.halfmoves() == 4);
    CHECK(there_and_back.fullmove() == 3);
}

TEST_CASE("what cannot be played is refused with its reasons, and counters are clamped") {
    Setup setup = read_fen("8/8/8/8/8/8/4P3/4K3 w - - 0 1").setup;
    REQUIRE_FALSE(Position::from(setup).ok());
    CHECK(Position::from(setup).error().has(SetupFault::kings));
    setup = Position().setup();
    setup.halfmoves = 1000000;
    setup.fullmove = -5;
    CHECK(Position::from(setup)->halfmoves() == 65535);
    CHECK(Position::from(setup)->fullmove() == 1);
}

TEST_CASE("a diagram with more moves than any game can show is still listed whole") {
    // 218 moves (N. Petrovic, 1964): the most known for a position that a game can reach.
    CHECK(position("R6R/3Q4/1Q4Q1/4Q3/2Q4Q/Q4Q2/pp1Q4/kBNN1KB1 w - - 0 1").legal_moves().size() == 218);
    // Nobody can play this far, but a file may say it.
    const Position crowded = position("QQQQQQQQ/Q6Q/Q6Q/Q6Q/Q6Q/QQ5Q/ppQ4Q/knQQQQQK w - - 0 1");
    CHECK(crowded.legal_moves().size() == crowded.count_legal_moves());
    CHECK(crowded.legal_moves().size() > 256);
}

TEST_CASE("a king castles to where his rook stood, or without moving himself") {
    const Position staying = position("1rk5/8/8/8/8/8/8/1RK5 w Bb - 0 1");
    CHECK(write_fen(staying.after(move(staying, "O-O-O")).setup()) == "1rk5/8/8/8/8/8/8/2KR4 b b - 1 1");
    const Position changing = position("k7/8/8/8/8/8/8/5KR1 w G - 0 1");
    CHECK(write_fen(changing.after(move(changing, "O-O")).setup()) == "k7/8/8/8/8/8/8/5RK1 b - - 1 1");
    const Move castles = move(changing, "O-O");
    CHECK_FALSE(changing.is_capture(castles));
    CHECK_FALSE(changing.captured(castles));
    CHECK(read_coordinate(changing, "f1g1") == castles); // castling as the king taking his rook
}
