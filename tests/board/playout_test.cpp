#include "positions.hpp"

#include "board/perft.hpp"

using namespace board;
using board_test::walk;

namespace {

/// The same position built anew from its diagram.
Position rebuilt(const Position& position) {
    const auto made = Position::from(position.setup());
    REQUIRE(made.ok());
    return *made;
}

/// Everything a caller can see.
bool same_in_all(const Position& a, const Position& b) {
    for (int square = 0; square < 64; ++square) {
        if (a.at(square_at(square)) != b.at(square_at(square))) {
            return false;
        }
    }
    return a.same_as(b) && a.hash() == b.hash() && a.setup() == b.setup() && a.checkers() == b.checkers() &&
           a.pinned(Color::white) == b.pinned(Color::white) &&
           a.pinned(Color::black) == b.pinned(Color::black);
}

} // namespace

TEST_CASE("along random games a position made move by move equals one built from its diagram") {
    int positions = 0;
    walk(200, 120, [&](const Position& current) {
        ++positions;
        if (!same_in_all(current, rebuilt(current))) {
            FAIL(write_fen(current.setup()));
        }
    });
    CHECK(positions > 5000);
}

TEST_CASE("along random games taking back restores everything") {
    walk(60, 100, [](const Position& current) {
        Position played = current;
        for (const Move m : current.legal_moves()) {
            const Position::Undo undo = played.make(m);
            if (played.same_as(current) || !played.same_as(current.after(m))) {
                FAIL(write_fen(current.setup()) << " " << write_coordinate(m));
            }
            played.unmake(m, undo);
            if (!same_in_all(current, played)) {
                FAIL(write_fen(current.setup()) << " " << write_coordinate(m));
            }
        }
    });
}

TEST_CASE("along random games listing, counting and asking agree") {
    walk(100, 100, [](const Position& current) {
        INFO(write_fen(current.setup()));
        const MoveList moves = current.legal_moves();
        MoveList captures;
        for (const Move m : moves) {
            if (current.is_capture(m) || m.is_promotion()) {
                captures.push(m);
            }
        }
        bool good = moves.size() == current.count_legal_moves() && current.has_legal_move() == !moves.empty();
        const MoveList listed = current.legal_captures();
        good &= listed.size() == captures.size();
        for (const Move m : listed) {
            good &= captures.contains(m);
        }
        if (!good) {
            FAIL("lists differ");
        }
    });
}

TEST_CASE("of all 65536 words exactly the legal moves are legal") {
    walk(5, 60, [](const Position& current) {
        const MoveList moves = current.legal_moves();
        for (std::uint32_t raw = 0; raw < 65536; ++raw) {
            const Move m = Move::from_raw(static_cast<std::uint16_t>(raw));
            if (current.is_legal(m) != moves.contains(m)) {
                FAIL(write_fen(current.setup()) << " " << write_coordinate(m) << " " << raw);
            }
        }
    });
}

TEST_CASE("along random games check, capture and legality are what the next position shows") {
    walk(100, 100, [](const Position& current) {
        const int men = current.occupied().count();
        for (const Move m : current.legal_moves()) {
            const Position next = current.after(m);
            const bool good = current.gives_check(m) == next.in_check() &&
                              current.is_capture(m) == (next.occupied().count() < men) &&
                              current.captured(m).has_value() == current.is_capture(m) &&
                              next.attackers(next.king(current.turn()), next.turn()).empty() &&
                              next.checkers() == next.attackers(next.king(next.turn()), current.turn());
            if (!good) {
                FAIL(write_fen(current.setup()) << " " << write_coordinate(m));
            }
        }
    });
}

TEST_CASE("along random games the legal moves are those pseudo-legal moves after which the king is safe") {
    walk(60, 80, [](const Position& current) {
        std::size_t safe = 0;
        for (const Move m : current.moves_ignoring_check()) {
            const Position next = current.after(m);
            bool castling_out_of_attack = m.kind() == MoveKind::castling && current.in_check();
            for (const Square passed :
                 m.kind() == MoveKind::castling ? between(m.from(), m.to()) : Bitboard()) {
                castling_out_of_attack |= current.attackers(passed, next.turn()).any();
            }
            safe += next.attackers(next.king(current.turn()), next.turn()).empty() && !castling_out_of_attack;
        }
        if (safe != current.count_legal_moves()) {
            FAIL(write_fen(current.setup()));
        }
    });
}

TEST_CASE("along random games SAN and coordinates lead back to the move, and no two moves are spelt alike") {
    walk(20, 60, [](const Position& current) {
        std::vector<std::string> spellings;
        for (const Move m : current.legal_moves()) {
            const std::string text = write_san(current, m);
            INFO(write_fen(current.setup()) << " " << text);
            const auto read = read_san(text);
            REQUIRE(read);
            const auto resolved = resolve(current, *read);
            REQUIRE(resolved.ok());
            const Position next = current.after(m);
            if (*resolved != m || read->foreign || read->check != (next.in_check() && !next.is_checkmate()) ||
                read->mate != next.is_checkmate() || read_coordinate(current, write_coordinate(m)) != m) {
                FAIL("does not lead back");
            }
            spellings.push_back(text);
        }
        std::sort(spellings.begin(), spellings.end());
        CHECK(std::adjacent_find(spellings.begin(), spellings.end()) == spellings.end());
    });
}

TEST_CASE("the two ways of counting a tree agree") {
    for (const std::string& fen : board_test::starts()) {
        Position current = board_test::position(fen);
        const Position before = current;
        CHECK(perft(current, 0) == 1);
        CHECK(perft(current, 3) == perft_made(current, 3));
        CHECK(same_in_all(before, current));
    }
}

TEST_CASE("lines, attacks and the squares between are those of a plain walk over the board") {
    std::mt19937_64 random(7);
    const auto walked = [](Square from, Bitboard occupied, bool straight) {
        Bitboard reached;
        for (const auto& [files, ranks] :
             {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}}) {
            if ((files == 0 || ranks == 0) != straight) {
                continue;
            }
            int file = file_of(from) + files;
            int rank = rank_of(from) + ranks;
            for (; file >= 0 && file < 8 && rank >= 0 && rank < 8; file += files, rank += ranks) {
                reached |= square_at(file, rank);
                if (occupied.contains(square_at(file, rank))) {
                    break;
                }
            }
        }
        return reached;
    };
    for (int round = 0; round < 300; ++round) {
        const Bitboard occupied(random() & (round % 2 == 0 ? random() : ~std::uint64_t{0}));
        for (int square = 0; square < 64; ++square) {
            const Square from = square_at(square);
            if (rook_attacks(from, occupied) != walked(from, occupied, true) ||
                bishop_attacks(from, occupied) != walked(from, occupied, false)) {
                FAIL(name(from) << " " << occupied.bits());
            }
        }
    }
    CHECK(between(Square::a1, Square::d4) == (Bitboard(Square::b2) | Square::c3));
    CHECK(between(Square::a1, Square::b3).empty());
    CHECK(line_through(Square::c3, Square::b2).count() == 8);
    CHECK(line_through(Square::b1, Square::b7) == file_bits(1));
    CHECK(line_through(Square::a1, Square::b3).empty());
    CHECK(queen_attacks(Square::d4, {}).count() == 27);
    CHECK(attacks({Color::black, Role::pawn}, Square::d4, {}) == (Bitboard(Square::c3) | Square::e3));
}
