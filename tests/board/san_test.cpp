#include "positions.hpp"

#include <sstream>

using namespace board;
using board_test::move;
using board_test::position;

namespace {

/// What a text means in a position, in export SAN, or what is wrong with it.
std::string meaning(const Position& position, const std::string& text) {
    const auto read = read_san(text);
    if (!read) {
        return "no move";
    }
    const auto resolved = resolve(position, *read);
    if (!resolved) {
        return resolved.error().fault == SanFault::ambiguous ? "ambiguous" : "illegal";
    }
    return write_san(position, *resolved);
}

std::vector<std::string> candidates(const Position& position, const std::string& text) {
    const auto resolved = resolve(position, *read_san(text));
    REQUIRE_FALSE(resolved.ok());
    std::vector<std::string> moves;
    for (const Move m : resolved.error().candidates) {
        moves.push_back(write_coordinate(m));
    }
    std::sort(moves.begin(), moves.end());
    return moves;
}

using Texts = std::vector<std::string>;

} // namespace

TEST_CASE("the sample game of the PGN standard 1994, section 2.3, reads and writes byte by byte") {
    const std::string game =
        "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 Nf6 5. O-O Be7 6. Re1 b5 7. Bb3 d6 8. c3 O-O 9. h3 Nb8 10. d4 "
        "Nbd7 "
        "11. c4 c6 12. cxb5 axb5 13. Nc3 Bb7 14. Bg5 b4 15. Nb1 h6 16. Bh4 c5 17. dxe5 Nxe4 18. Bxe7 Qxe7 "
        "19. exd6 "
        "Qf6 20. Nbd2 Nxd6 21. Nc4 Nxc4 22. Bxc4 Nb6 23. Ne5 Rae8 24. Bxf7+ Rxf7 25. Nxf7 Rxe1+ 26. Qxe1 "
        "Kxf7 27. "
        "Qe3 Qg5 28. Qxg5 hxg5 29. b3 Ke6 30. a3 Kd6 31. axb4 cxb4 32. Ra5 Nd5 33. f3 Bc8 34. Kf2 Bf5 35. "
        "Ra7 g6 36. "
        "Ra6+ Kc5 37. Ke1 Nf4 38. g3 Nxh3 39. Kd2 Kb5 40. Rd6 Kc5 41. Ra6 Nf2 42. g4 Bd3 43. Re6";
    std::istringstream tokens(game);
    Position current;
    std::string token;
    while (tokens >> token) {
        if (token.back() == '.') {
            CHECK(token == std::to_string(current.fullmove()) + ".");
            continue;
        }
        INFO(token);
        const Move played = move(current, token);
        CHECK_FALSE(read_san(token)->foreign);
        CHECK(write_san(current, played) == token);
        current.make(played);
    }
    CHECK(current.fullmove() == 43);
    CHECK(current.turn() == Color::black);
}

TEST_CASE("disambiguation as PGN standard 8.2.3.4 has it: file, else rank, else both") {
    const auto all = [](const char* fen, Square to) {
        const Position current = position(fen);
        Texts texts;
        for (const Move m : current.legal_moves()) {
            if (m.to() == to) {
                texts.push_back(write_san(current, m));
            }
        }
        std::sort(texts.begin(), texts.end());
        return texts;
    };
    CHECK(all("7k/8/8/8/8/8/8/R3R1K1 w - - 0 1", Square::c1) == Texts{"Rac1", "Rec1"});
    CHECK(all("7k/8/R7/8/R7/8/8/6K1 w - - 0 1", Square::a5) == Texts{"R4a5", "R6a5"});
    CHECK(all("6k1/8/8/8/Q6Q/8/8/K6Q w - - 0 1", Square::e4) == Texts{"Q1e4", "Qae4", "Qh4e4"});
    // The file is enough although a third man shares the rank.
    CHECK(all("7k/8/8/8/8/2N5/8/K3N1N1 w - - 0 1", Square::f3) == Texts{"Nef3", "Ngf3"});
    // A pinned man is no rival: "the only knight that can move there" needs no help.
    CHECK(all("4r2k/8/8/8/8/8/4N3/N3K3 w - - 0 1", Square::c2) == Texts{"Nc2"});
    CHECK(all("4r2k/8/8/8/4N3/8/8/N3K1N1 w - - 0 1", Square::d2) == Texts{"Kd2"});
    CHECK(all("4r2k/8/8/1N6/4N3/8/8/4K3 w - - 0 1", Square::c3) == Texts{"Nc3"});
    // A man that would not answer the check is no rival either.
    CHECK(all("4k3/8/8/8/8/8/8/R2RK2r w - - 0 1", Square::d2) == Texts{"Kd2"});
}

TEST_CASE("promotion, capture, castling, check and mate signs") {
    const Position promoting = position("1n5k/P7/8/8/8/8/8/K7 w - - 0 1");
    CHECK(meaning(promoting, "a8=Q") == "a8=Q");
    CHECK(meaning(promoting, "axb8=R") == "axb8=R+");
    CHECK(meaning(promoting, "a8") == "ambiguous");
    CHECK(candidates(promoting, "a8") == Texts{"a7a8b", "a7a8n", "a7a8q", "a7a8r"});
    CHECK(meaning(promoting, "a8=K") == "illegal");
    CHECK(meaning(promoting, "a8=P") == "illegal");
    CHECK(meaning(position("6k1/5ppp/8/8/8/8/8/R3K2R w KQ - 0 1"), "Ra8") == "Ra8#");
    CHECK(meaning(position("5k2/8/8/8/8/8/8/4K2R w K - 0 1"), "O-O") == "O-O+");
    CHECK(meaning(position("4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1"), "exd6") == "exd6");
}

TEST_CASE("foreign spellings are understood and marked") {
    const Position opening = position("r3k2r/pPp2ppp/8/3pP3/1q4b1/2N2N2/P1PP1PPP/R3K2R w KQkq d6 0 12");
    const std::vector<std::pair<std::string, std::string>> spellings{
        {"0-0", "O-O"},
        {"o-o", "O-O"},
        {"0-0-0", "O-O-O"},
        {"o-o-o", "O-O-O"},
        {"O\xe2\x80\x93O", "O-O"},
        {"bxa8Q", "bxa8=Q+"},
        {"bxa8(Q)", "bxa8=Q+"},
        {"bxa8=q", "bxa8=Q+"},
        {"bxa8q", "bxa8=Q+"},
        {"ba8=S", "bxa8=N"},
        {"b:a8=Q", "bxa8=Q+"},
        {"bxa8=\xe2\x99\x95", "bxa8=Q+"},
        {"exd6e.p.", "exd6"},
        {"exd6 e.p.", "exd6"},
        {"exd6ep", "exd6"},
        {"exd6 ep", "exd6"},
        {"ed6", "exd6"},
        {"e5xd6", "exd6"},
        {"e5-e6", "e6"},
        {"e5e6", "e6"},
        {"Nf3-d4", "Nd4"},
        {"Sd4", "Nd4"},
        {"\xe2\x99\x98"
         "d4",
         "Nd4"},
        {"\xe2\x99\x9e"
         "d4",
         "Nd4"},
        {"\xe2\x99\x98\xef\xb8\x8e"
         "d4",
         "Nd4"},
        {"\xe2\x99\x99"
         "e6",
         "e6"},
        {"Pe6", "e6"},
        {"N:d5", "Nxd5"},
        {"N\xc3\x97"
         "d5",
         "Nxd5"},
        {"Nd4++", "Nd4"},
    };
    for (const auto& [text, san] : spellings) {
        INFO(text);
        CHECK(meaning(opening, text) == san);
        REQUIRE(read_san(text));
        CHECK(read_san(text)->foreign);
    }
    for (const char* native :
         {"O-O", "O-O-O", "bxa8=Q+", "exd6", "e6", "Nd4", "Nxd5", "Nd4!?", "Nfd4", "Nf3d4", "N3d4", "Nd4#"}) {
        INFO(native);
        REQUIRE(read_san(native));
        CHECK_FALSE(read_san(native)->foreign);
        CHECK(meaning(opening, native) != "no move");
    }
}

TEST_CASE("superfluous help is no fault, too little is, and signs are not held against a move") {
    const Position rooks = position("7k/8/8/8/8/8/8/R3R1K1 w - - 0 1");
    CHECK(meaning(rooks, "Ra1c1") == "Rac1");
    CHECK(meaning(rooks, "Rc1") == "ambiguous");
    CHECK(candidates(rooks, "Rc1") == Texts{"a1c1", "e1c1"});
    CHECK(meaning(rooks, "R1c1") == "ambiguous");
    CHECK(meaning(rooks, "Re8") == "Re8+");
    CHECK(meaning(rooks, "Ra8") == "Ra8+");
    CHECK(meaning(rooks, "Ra3+") == "Ra3");
    CHECK(meaning(rooks, "Rxa3#") == "Ra3");
    CHECK(meaning(rooks, "Rb1d1") == "illegal");
    // Castling is no king's step.
    CHECK(meaning(position("4k3/8/8/8/8/8/8/4K2R w K - 0 1"), "Kg1") == "illegal");
}

TEST_CASE("an illegal move names the men that only a check holds back") {
    CHECK(candidates(position("4r2k/8/8/8/8/8/4N3/N3K3 w - - 0 1"), "Nc3") == Texts{"e2c3"});
    CHECK(candidates(position("4r2k/8/8/8/8/8/4N3/N3K3 w - - 0 1"), "Ng4").empty());
    CHECK(candidates(position("4k3/8/8/8/8/8/8/R3K2r w Q - 0 1"), "O-O-O") == Texts{"e1c1"});
    CHECK(candidates(position("4k3/8/8/8/8/8/8/R3K2r w - - 0 1"), "O-O-O").empty());
    CHECK(candidates(Position(), "--").empty());
}

TEST_CASE("the parts of a move's text") {
    const auto quiet = read_san("Nbd7!?");
    REQUIRE(quiet);
    CHECK(quiet->role == Role::knight);
    CHECK(quiet->from_file == 1);
    CHECK_FALSE(quiet->from_rank);
    CHECK(quiet->to == Square::d7);
    CHECK(quiet->suffix == "!?");
    const auto loud = read_san("exd8=N#??");
    REQUIRE(loud);
    CHECK(loud->capture);
    CHECK(loud->mate);
    CHECK_FALSE(loud->check);
    CHECK(loud->promotion == Role::knight);
    CHECK(loud->suffix == "??");
    CHECK(read_san("O-O-O+!")->castling == CastlingSide::queen);
    CHECK(read_san("O-O+")->check);
    CHECK(read_san("--")->null);
    CHECK(read_san("Z0")->null);
    CHECK(read_san("e4!!!")->foreign);
    for (const char* text : {"",
                             "x",
                             "e",
                             "e9",
                             "Ke",
                             "i4",
                             "Nf",
                             "O",
                             "O-",
                             "O-O-",
                             "0-O",
                             "Nf3x",
                             "Nf3=",
                             "e8=",
                             "e8(Q",
                             "e4 ",
                             "e4x",
                             "1.e4",
                             "Nf3-",
                             "e.p.",
                             "+",
                             "!",
                             "nf3",
                             "\xe2\x99",
                             "\xe2\x99\x93"
                             "e4",
                             "e4+-",
                             "N--f3",
                             "Nx-f3",
                             "e8=X"}) {
        INFO(text);
        CHECK_FALSE(read_san(text));
    }
    CHECK_FALSE(read_san(std::string(1000000, 'N')));
    CHECK_FALSE(read_san("e4" + std::string(1000000, '!')));
}

TEST_CASE("coordinates are read only when they are legal") {
    const Position current = position("r3k2r/1P3ppp/8/8/8/8/5PPP/R3K2R w KQkq - 0 1");
    const auto read = [&](const char* text) {
        const auto found = read_coordinate(current, text);
        return found ? write_coordinate(*found) : "none";
    };
    CHECK(read("f2f4") == "f2f4");
    CHECK(read("f2-f4") == "f2f4");
    CHECK(read("e1g1") == "e1g1");
    CHECK(read_coordinate(current, "e1g1")->kind() == MoveKind::castling);
    CHECK(read("b7b8q") == "b7b8q");
    CHECK(read("b7a8=N") == "b7a8n");
    CHECK(read("b7-a8=N") == "b7a8n");
    CHECK(read("b7b8") == "none");
    CHECK(read("b7b8k") == "none");
    CHECK(read("f2f4q") == "none");
    for (const char* text : {"", "f", "f2", "f2f", "f2f5", "f2f4f4", "f2--f4", "f2-f",
                             "f2f4=", "f2f4==", "a1a1", "\xff\xff\xff\xff"}) {
        INFO(text);
        CHECK(read(text) == "none");
    }
}

TEST_CASE("lines are numbered from the position's move number") {
    const Position current = position("3k4/8/8/8/8/8/8/Q3K2B w - - 0 14");
    const Move check = move(current, "Qd4+");
    const Position next = current.after(check);
    const Move reply = move(next, "Ke8");
    const std::vector<Move> line{check, reply, Move::normal(Square::d4, Square::h8)};
    CHECK(write_line(current, line) == "14.Qd4+ Ke8 15.Qh8+");
    CHECK(write_line(next, std::span(line).subspan(1)) == "14...Ke8 15.Qh8+");
    CHECK(write_line(current, {}).empty());
    CHECK(write_line(current, std::vector{check, check}) == "14.Qd4+");
}
