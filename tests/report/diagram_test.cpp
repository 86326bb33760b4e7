#include "catch.hpp"

#include "board/fen.hpp"
#include "report/report.hpp"

TEST_CASE("diagram: the initial array from both sides") {
    CHECK(report::diagram(board::Position(), board::Color::white) == "8  r n b q k b n r\n"
                                                                     "7  p p p p p p p p\n"
                                                                     "6  . : . : . : . :\n"
                                                                     "5  : . : . : . : .\n"
                                                                     "4  . : . : . : . :\n"
                                                                     "3  : . : . : . : .\n"
                                                                     "2  P P P P P P P P\n"
                                                                     "1  R N B Q K B N R\n"
                                                                     "   a b c d e f g h   White to move\n");
    const std::string turned = report::diagram(board::Position(), board::Color::black);
    CHECK(turned.substr(0, 19) == "1  R N B K Q B N R\n");
    CHECK(turned.find("   h g f e d c b a   White to move\n") != std::string::npos);
}

TEST_CASE("diagram: one that cannot be played is drawn all the same") {
    const board::FenReading reading = board::read_fen("8/8/8/8/8/8/8/K6P b - - 0 1");
    const std::string drawn = report::diagram(reading.setup, board::Color::white);
    CHECK(drawn.find("1  K . : . : . : P\n") != std::string::npos);
    CHECK(drawn.find("Black to move") != std::string::npos);
}

TEST_CASE("diagram: marked squares stand in brackets") {
    using board::Square;
    const board::FenReading reading = board::read_fen("7k/8/8/8/8/8/1P6/B3K3 w - - 0 1");
    const std::vector<Square> marked{Square::a1, Square::b1, Square::b2, Square::h8};
    const std::string drawn = report::diagram(reading.setup, board::Color::white, marked);
    CHECK(drawn.find("8  . : . : . : .[k]\n") != std::string::npos);
    CHECK(drawn.find("2  .[P]. : . : . :\n") != std::string::npos);
    CHECK(drawn.find("1 [B|.]: . K . : .\n") != std::string::npos);
    const std::string turned = report::diagram(reading.setup, board::Color::black, marked);
    CHECK(turned.find("1  . : . K . :[.|B]\n") != std::string::npos);
}
