// Why a move cannot be played, told in words that a person can check on the board. Diagrams are our own.
#include "from_text.hpp"
#include "rules/unplayable.hpp"

using namespace rules;

namespace {

Unplayable told(std::string_view fen, std::string_view text) {
    return why_not(from_text::position(fen), text);
}

} // namespace

TEST_CASE("each kind of impossible move has its own reason") {
    CHECK(told("4r1k1/5ppp/8/8/4N3/8/5PPP/4K3 w - - 0 1", "Nf6+").why ==
          "it would leave the king on e1 in check");
    CHECK(told("4r1k1/5ppp/8/8/8/5N2/5PPP/4K3 w - - 0 1", "Nd4").why ==
          "it does not answer the check from the rook on e8");
    CHECK(told("4r1k1/5ppp/8/8/8/5N2/5PPP/3K4 w - - 0 1", "Ke2").why == "e2 is attacked");
    CHECK(told("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", "Rf2").why == "a man of the same side stands on f2");
    CHECK(told("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", "Qd8#").why == "White has no queen");
    CHECK(told("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", "Re8#").why == "the rook on d1 cannot go to e8");
    CHECK(told("6k1/5ppp/8/8/8/8/4NPPP/3N2K1 w - - 0 1", "Ne5").why == "no knight can go to e5");
    CHECK(told("7k/P7/6K1/8/8/8/8/8 w - - 0 1", "a8").why == "it does not say what the pawn becomes");
    CHECK(told("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", "Kf8").why ==
          "Black could play it, and White is to move");
    CHECK(told("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", "--").why == "a pass is no move");
    CHECK(told("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", "then").why == "it is no move in algebraic notation");
}

TEST_CASE("castling fails for one of four reasons") {
    CHECK(told("4k3/8/8/8/8/8/8/R3K2R w K - 0 1", "O-O-O").why ==
          "White has no right to castle on the queen's side");
    CHECK(told("4k3/8/8/8/8/8/8/R3KB1R w K - 0 1", "O-O").why == "men stand between king and rook");
    CHECK(told("4r1k1/8/8/8/8/8/8/4K2R w K - 0 1", "O-O").why == "a king in check does not castle");
    CHECK(told("5rk1/8/8/8/8/8/8/4K2R w K - 0 1", "O-O").why ==
          "the king would pass or enter an attacked square");
}

TEST_CASE("two men that fit are both named") {
    const Unplayable move = told("6k1/8/8/8/8/8/6K1/R6R w - - 0 1", "Re1");
    CHECK(move.why == "it could be Rae1 or Rhe1");
    CHECK(suggestion(move) == "perhaps Rae1 or Rhe1 were meant");
}

TEST_CASE("a coordinate move is told by the man on its square") {
    CHECK(told("6k1/8/8/8/8/8/8/4K1N1 w - - 0 1", "g1g3").why == "the knight on g1 cannot go to g3");
    CHECK(told("6k1/8/8/8/8/8/8/4K1N1 w - - 0 1", "a1a2").why == "no man stands on a1");
    CHECK(told("6k1/8/8/8/8/8/8/4K1N1 w - - 0 1", "g8g7").why == "the king on g8 is not White's");
}

TEST_CASE("a slip of one letter is recognised, nonsense is not guessed at") {
    CHECK(suggestion(told("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", "Kh11")) == "perhaps Kh1 was meant");
    CHECK(suggestion(told("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", "and Black resigned")).empty());
    CHECK(suggestion(told("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", std::string(100'000, 'x'))).empty());
}
