#include "positions.hpp"

using namespace board;

namespace {

/// The kinds of fault in a text, with the bytes they point at.
std::vector<std::pair<FenFaultKind, std::string>> faults(const std::string& text) {
    std::vector<std::pair<FenFaultKind, std::string>> found;
    for (const FenFault& fault : read_fen(text).faults) {
        REQUIRE(fault.begin <= fault.end);
        REQUIRE(fault.end <= text.size());
        REQUIRE_FALSE(fault.what.empty());
        found.emplace_back(fault.kind, text.substr(fault.begin, fault.end - fault.begin));
    }
    return found;
}

using Faults = std::vector<std::pair<FenFaultKind, std::string>>;

} // namespace

TEST_CASE("the FEN examples of the PGN standard 1994, section 16.1.4, read and written") {
    const std::string initial = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
    for (const std::string& fen :
         {initial, std::string("rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1"),
          std::string("rnbqkbnr/pp1ppppp/8/2p5/4P3/8/PPPP1PPP/RNBQKBNR w KQkq c6 0 2"),
          std::string("rnbqkbnr/pp1ppppp/8/2p5/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 1 2"),
          std::string("4k3/8/8/8/8/8/4P3/4K3 w - - 5 39")}) {
        INFO(fen);
        const FenReading reading = read_fen(fen);
        CHECK(reading.usable);
        CHECK(reading.faults.empty());
        CHECK(write_fen(reading.setup) == fen);
        CHECK(fen[reading.side_begin] == (reading.setup.turn == Color::white ? 'w' : 'b'));
    }
    CHECK(write_fen(Position().setup()) == initial);
}

TEST_CASE("four and five fields are enough and the counters take their usual values") {
    const FenReading four = read_fen("4k3/8/8/8/8/8/4P3/4K3 b - -");
    CHECK(four.faults.empty());
    CHECK(write_fen(four.setup) == "4k3/8/8/8/8/8/4P3/4K3 b - - 0 1");
    CHECK(read_fen("4k3/8/8/8/8/8/4P3/4K3 b - - 7").setup.halfmoves == 7);
}

TEST_CASE("every fault of a FEN is reported with the bytes it is about") {
    CHECK(faults("4k3/8/8/8/8/8/4P3/4K3 x Kz e4 -1 0 and more") == Faults{{FenFaultKind::side, "x"},
                                                                          {FenFaultKind::castling, "Kz"},
                                                                          {FenFaultKind::en_passant, "e4"},
                                                                          {FenFaultKind::clock, "-1"},
                                                                          {FenFaultKind::clock, "0"},
                                                                          {FenFaultKind::extra, "and more"}});
    CHECK(faults("rnbqkbnr/pppppppp/8/8/8/8/PPPPPPP/RNBQKBNR w KQkq - 0 1") ==
          Faults{{FenFaultKind::shape, "PPPPPPP"}});
    CHECK(faults("4k3/8/7/8/8/8/4P3/4K3 w - - 0 1") == Faults{{FenFaultKind::shape, "7"}});
    CHECK(faults("4k3/8/9/8/8/8/4P3/4K3 w - - 0 1") == Faults{{FenFaultKind::shape, "9"}});
    CHECK(faults("4k3/8/8/8/8/8/4P4/4K3 w - - 0 1") == Faults{{FenFaultKind::shape, "4P4"}});
    CHECK(faults("4k3/8/8//8/8/4P3/4K3 w - - 0 1") == Faults{{FenFaultKind::shape, ""}});
    CHECK(faults("4k3/8/8/8/8/4P3/4K3 w - - 0 1") == Faults{{FenFaultKind::shape, ""}});
    CHECK(faults("4k3/8/8/8/8/8/8/4P3/4K3 w - - 0 1") == Faults{{FenFaultKind::shape, "/4K3"}});
    CHECK(faults("4k3/8/2\xc3\xb6"
                 "5/8/8/8/4P3/4K3 w - - 0 1") == Faults{{FenFaultKind::shape, "\xc3\xb6"}});
    CHECK(faults("4k3/8/8/8/8/8/4P3/4K3 w - - 65536 99999999999999999999") ==
          Faults{{FenFaultKind::clock, "65536"}, {FenFaultKind::clock, "99999999999999999999"}});
    CHECK(faults("4k3/8/8/8/8/8/4P3/4K3") == Faults(3, {FenFaultKind::missing, ""}));
    CHECK(faults("") == Faults(4, {FenFaultKind::missing, ""}));
    CHECK(faults("  ").size() == 5);
    for (const char* unusable : {"", "4k3/8/8/8/8/8/4P3/4K3", "4k3/8/8/8/8/8/4P3/4K2 w - -", "8 w",
                                 "4k3/8/8/8/8/8/4P3/4K3 white - - 0 1"}) {
        CHECK_FALSE(read_fen(unusable).usable);
    }
}

TEST_CASE("what is readable but not canonical is a fault of style and keeps its meaning") {
    const std::string canonical = "r3k2r/8/8/3pP3/8/8/8/R3K2R w KQkq d6 0 9";
    for (const auto& [text, where] : std::vector<std::pair<std::string, std::string>>{
             {"r3k2r/44/8/3pP3/8/8/8/R3K2R w KQkq d6 0 9", "44"},
             {"r3k2r/8/8/3pP3/8/8/8/R3K2R W KQkq d6 0 9", "W"},
             {"r3k2r/8/8/3pP3/8/8/8/R3K2R w kqKQ d6 0 9", "kqKQ"},
             {"r3k2r/8/8/3pP3/8/8/8/R3K2R w KQkqK d6 0 9", "KQkqK"},
             {"r3k2r/8/8/3pP3/8/8/8/R3K2R  w KQkq d6 0 9", "  "},
             {"r3k2r/8/8/3pP3/8/8/8/R3K2R w\tKQkq d6 0 9", "\t"},
             {" r3k2r/8/8/3pP3/8/8/8/R3K2R w KQkq d6 0 9", " "},
             {"r3k2r/8/8/3pP3/8/8/8/R3K2R w KQkq d6 0 9\n", "\n"},
             {"r3k2r/8/8/3pP3/8/8/8/R3K2R w KQkq d6 00 9", "00"}}) {
        INFO(text);
        CHECK(read_fen(text).usable);
        CHECK(write_fen(read_fen(text).setup) == canonical);
        CHECK(faults(text) == Faults{{FenFaultKind::style, where}});
    }
    CHECK(faults("4k3/44/8/8/8/8/4P3/4K3 w - - 5 39") == Faults{{FenFaultKind::style, "44"}});
    CHECK(faults("4k3/8/8/8/8/8/4P3/4K3 w \xe2\x80\x93 - 0 1") ==
          Faults{{FenFaultKind::style, "\xe2\x80\x93"}});
}

TEST_CASE("a hostile FEN costs little and is still reported") {
    std::string ranks;
    for (int i = 0; i < 100000; ++i) {
        ranks += "x1y1/";
    }
    const FenReading reading = read_fen(ranks + " x y z");
    CHECK_FALSE(reading.usable);
    CHECK(reading.faults.size() <= 64);
    CHECK(reading.faults.back().kind == FenFaultKind::en_passant);
    const FenReading one_rank =
        read_fen(std::string(ranks.size(), '1') + "x1x1/" + ranks.substr(0, 4) + " q - -");
    CHECK(one_rank.faults.back().kind == FenFaultKind::side);
    CHECK(read_fen(std::string(1000000, '1') + " w - -").faults.size() <= 64);
    CHECK(read_fen(std::string(1000000, ' ')).faults.size() == 5);
    CHECK_FALSE(read_fen(std::string(1000000, 'K')).usable);
}

TEST_CASE("all faults of a setup come at once") {
    const auto of = [](const char* fen) { return faults_of(read_fen(fen).setup); };
    const auto only = [](SetupFault fault) {
        SetupFaults faults;
        faults.add(fault);
        return faults;
    };
    CHECK(of("4k3/8/8/8/8/8/4P3/4K3 w - - 5 39").empty());
    CHECK(of("8/8/8/8/8/8/4P3/4K3 w - - 0 1") == only(SetupFault::kings));
    CHECK(of("4k3/8/8/8/8/8/4P3/4K2K w - - 0 1") == only(SetupFault::kings));
    CHECK(of("P3k3/8/8/8/8/8/8/4K3 w - - 0 1") == only(SetupFault::pawn_ranks));
    CHECK(of("4k3/8/8/8/8/8/8/4RK2 w - - 0 1") == only(SetupFault::opponent_in_check));
    CHECK(of("4k3/8/8/8/8/8/8/4RK2 b - - 0 1").empty());
    CHECK(of("4k3/8/8/8/8/8/8/4K2R w KQ - 0 1") == only(SetupFault::castling_rights));
    CHECK(of("4k3/8/8/3pP3/8/8/8/4K3 w - e6 0 1") == only(SetupFault::en_passant));
    CHECK(of("4k3/3p4/8/3pP3/8/8/8/4K3 w - d6 0 1") == only(SetupFault::en_passant));
    CHECK(of("4k3/8/8/3pP3/8/8/8/4K3 b - d6 0 1") == only(SetupFault::en_passant));
    CHECK(of("4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1").empty());

    const SetupFaults many = of("p7/8/8/3kK3/8/8/8/7P b KQkq e6 0 1");
    for (const SetupFault fault :
         {SetupFault::adjacent_kings, SetupFault::pawn_ranks, SetupFault::opponent_in_check,
          SetupFault::castling_rights, SetupFault::en_passant}) {
        CHECK(many.has(fault));
    }
    CHECK_FALSE(many.has(SetupFault::kings));
    const Setup mended = without_field_faults(read_fen("4k3/8/8/3pP3/8/8/8/4K2R w KQkq e6 3 4").setup);
    CHECK(write_fen(mended) == "4k3/8/8/3pP3/8/8/8/4K2R w K - 3 4");
    CHECK(faults_of(Setup{}) == only(SetupFault::kings));
}

TEST_CASE("squares, men and setups are named and placed") {
    CHECK(name(Square::e4) == "e4");
    CHECK(read_square("h8") == Square::h8);
    for (const char* bad : {"", "e", "e9", "i1", "e44", "E4"}) {
        CHECK_FALSE(read_square(bad));
    }
    CHECK(read_piece('n') == Piece{Color::black, Role::knight});
    CHECK(letter({Color::white, Role::queen}) == 'Q');
    for (int c = -128; c < 128; ++c) {
        const auto piece = read_piece(static_cast<char>(c));
        CHECK((!piece || letter(*piece) == static_cast<char>(c)));
    }
    Setup setup;
    setup.put(Square::c3, {Color::white, Role::rook});
    setup.put(Square::c3, {Color::black, Role::pawn});
    CHECK(setup.at(Square::c3) == Piece{Color::black, Role::pawn});
    CHECK(setup.occupied().count() == 1);
    setup.remove(Square::c3);
    CHECK(setup == Setup{});
}

TEST_CASE("castling letters of Chess960, by the outermost rook and by the rook's file") {
    const std::string outermost = "2rkr1r1/8/8/8/8/8/8/R1RKR3 w KQq - 0 1";
    const FenReading read = read_fen(outermost, Start::shuffled);
    CHECK(read.faults.size() == 1); // White's outermost rook stands on a, Black's on c
    CHECK(read.setup.castling.empty());

    const FenReading agreeing = read_fen("2rkr1r1/8/8/8/8/8/8/2RKR1R1 w KQq - 0 1", Start::shuffled);
    CHECK(agreeing.faults.empty());
    CHECK(agreeing.setup.home.rook_file(CastlingSide::king) == 6);
    CHECK(agreeing.setup.home.rook_file(CastlingSide::queen) == 2);
    CHECK(write_fen(agreeing.setup) == "2rkr1r1/8/8/8/8/8/8/2RKR1R1 w GCc - 0 1");
    CHECK(read_fen(write_fen(agreeing.setup), Start::by_letters).setup == agreeing.setup);

    const FenReading inner = read_fen("2rkr1r1/8/8/8/8/8/8/R1RKR3 w ECec - 0 1", Start::by_letters);
    CHECK(inner.faults.empty());
    CHECK(inner.setup.castling.bits() == 15);
    CHECK(faults_of(inner.setup).empty());
}

TEST_CASE("an orthodox diagram reads the same by letters, and keeps letters of files for Chess960") {
    const std::string castling = "r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1";
    CHECK(read_fen(castling, Start::by_letters).setup == read_fen(castling).setup);
    CHECK(write_fen(read_fen(castling, Start::shuffled).setup) == castling);
    CHECK(read_fen(castling, Start::shuffled).setup.home.is_shuffled());
    CHECK(read_fen("r3k2r/8/8/8/8/8/8/R3K2R w HAha - 0 1").faults.front().kind == FenFaultKind::castling);
    CHECK(read_fen("r3k2r/8/8/8/8/8/8/R3K2R w HAha - 0 1").faults.front().what ==
          "The castling letters name files, and nothing says that this is Chess960");
}

TEST_CASE("castling letters that mean no rook, or a king in the corner, are faults of the field") {
    for (const char* const fen : {"4k3/8/8/8/8/8/8/R3K2R w B - 0 1", "4k3/8/8/8/4K3/8/8/R6R w K - 0 1",
                                  "4k3/8/8/8/8/8/8/R3K2R w X - 0 1", "4k3/8/8/8/8/8/8/K6R w K - 0 1",
                                  "r2k3r/8/8/8/8/8/8/R3K2R w KQkq - 0 1", "4k3/8/8/8/8/8/8/4K3 w K - 0 1"}) {
        INFO(fen);
        const FenReading read = read_fen(fen, Start::shuffled);
        REQUIRE(read.faults.size() == 1);
        CHECK(read.faults.front().kind == FenFaultKind::castling);
        CHECK(read.setup.castling.empty());
        CHECK(Position::from(read.setup).ok());
    }
}
