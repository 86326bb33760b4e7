// What sentences claim, and what they only seem to. All sentences are our own.
#include "catch.hpp"

#include "collection/phrases.hpp"
#include "reading.hpp"

using namespace collection;

namespace {

/// "unit white exchange", "mate 3"; doubted ones with a question mark behind.
std::vector<std::string> claims(std::string_view text) {
    static constexpr const char* kinds[] = {"side",      "mate",      "win",   "sign", "draw",
                                            "draw sign", "hold",      "unit",  "loss", "ahead",
                                            "only",      "no matter", "count", "other"};
    std::vector<std::string> told;
    for (const Phrase& phrase : read_phrases(text).phrases) {
        std::string claim = kinds[static_cast<std::size_t>(phrase.kind)];
        claim += phrase.side ? " " + std::string(board::name(*phrase.side)) : "";
        claim += phrase.number > 0 ? " " + std::to_string(phrase.number) : "";
        const bool men = phrase.kind == PhraseKind::unit || phrase.kind == PhraseKind::loss ||
                         phrase.kind == PhraseKind::ahead;
        claim += men ? " " + std::string(name(phrase.unit)) : "";
        told.push_back(claim + (phrase.doubted ? "?" : ""));
    }
    return told;
}

using List = std::vector<std::string>;

} // namespace

TEST_CASE("the phrases of every language can be read") {
    const auto languages = phrase_languages();
    if (!languages) {
        FAIL(languages.error());
    }
    CHECK(*languages == List{"de", "en"});
}

TEST_CASE("plain sentences claim") {
    CHECK(claims("White to move and mate in two.") == List{"side white", "mate 2"});
    CHECK(claims("Mate in 3 moves") == List{"mate 3"});
    CHECK(claims("A two-mover") == List{"mate 2"});
    CHECK(claims("Black to play and win the exchange by force!") == List{"side black", "unit exchange"});
    CHECK(claims("and wins a piece") == List{"unit piece"});
    CHECK(claims("Harbour cup: White wins a knight") == List{"unit white piece"});
    CHECK(claims("White is a rook up.") == List{"ahead white rook"});
    CHECK(claims("with an extra pawn") == List{"ahead pawn"});
    CHECK(claims("Black wins in all lines") == List{"win black"});
    CHECK(claims("mate next move") == List{"mate 1"});
    CHECK(claims("the only move") == List{"only"});
    CHECK(claims("It does not matter.") == List{"no matter"});
    CHECK(claims("Twelve forks for the winter term") == List{"count 12"});
    CHECK(claims("30 puzzles") == List{"count 30"});
    CHECK(claims("+") == List{"sign"});
    CHECK(claims("Helpmate in 2") == List{"other 2"});
}

TEST_CASE("German sentences claim as well") {
    CHECK(claims("Weiß am Zug gewinnt die Qualität") == List{"side white", "unit exchange"});
    CHECK(claims("Weiß am Zug, Matt in drei Zügen") == List{"side white", "mate 3"});
    CHECK(claims("SCHWARZ gewinnt die Dame.") == List{"unit black queen"});
    CHECK(claims("Aufgabe 3: SCHWARZ HÄLT REMIS") == List{"draw black"});
    CHECK(claims("Weiß gewinnt nicht die Dame").empty());
    CHECK(claims("Zwölf Gabeln für den Winter") == List{"count 12"});
}

TEST_CASE("more words than the claim needs, and there is none") {
    for (const char* text : {"White wins a piece for a pawn",
                             "wins the piece back",
                             "wins two pawns",
                             "the queen wins a rook in the corner",
                             "mate in two or three",
                             "and wins only a pawn",
                             "mate in at most two",
                             "at least mate in 4",
                             "mate",
                             "a mate in the corner",
                             "White to movement",
                             "Whiteto move, blackbird to move",
                             "64 squares",
                             "twelve puzzles a week",
                             "winners",
                             "outwins a piece",
                             "-+",
                             "drawing board",
                             "mate in 1000",
                             "mate in 0"}) {
        INFO(text);
        CHECK(claims(text).empty());
    }
}

TEST_CASE("a sentence that denies, asks or makes conditions claims nothing for certain") {
    for (const char* text :
         {"If Black takes, White wins a piece.", "Not like that: White wins.", "White wins, does he not?",
          "White wins a piece, instead of a pawn.", "12.Nf3, winning a piece", "Mate in two?",
          "White wins, but slowly.", "Black threatens mate on g2, White wins"}) {
        INFO(text);
        REQUIRE_FALSE(claims(text).empty());
        for (const Phrase& phrase : read_phrases(text).phrases) {
            CHECK(phrase.doubted);
        }
    }
    CHECK_FALSE(read_phrases("Mate in two. Is that all?").phrases.at(0).doubted);
    CHECK(read_phrases("Mate in two. Is that all?").doubtful);
    CHECK_FALSE(read_phrases("wins a piece").doubtful);
}

TEST_CASE("hostile texts are read to the end or not at all") {
    CHECK(claims(std::string(100'000, '#')).empty());
    CHECK(claims(std::string(3'999, '+')).empty());
    CHECK(claims("\xff\xfe wins a piece \xc3") == List{});
    CHECK(claims(std::string("mate in two\0.", 13)) == List{"mate 2"});
    CHECK(claims("").empty());
}

TEST_CASE("a caption states the goal that no field states") {
    const auto goal = [](const std::string& event, const std::string& side, const std::string& more) {
        const Document document =
            read("a.pgn",
                 "[Event \"" + event + "\"]\n" + more + "[FEN \"6k1/5ppp/8/8/8/8/5PPP/3R2K1 " + side +
                     " - - 0 1\"]\n\n*\n",
                 {});
        const Puzzle& puzzle = document.puzzles.at(0);
        return (puzzle.goal ? write_goal(puzzle.goal->value) : "none") +
               (puzzle.goal_by_caption ? " by caption " + reading::at(document, puzzle.goal->span) : "");
    };
    CHECK(goal("Mate in two", "w", "") == "mate in 2 by caption Mate in two");
    CHECK(goal("Mate in two", "w", "[Goal \"win\"]\n") == "win");
    CHECK(goal("White wins the exchange", "w", "") == "win exchange by caption White wins the exchange");
    CHECK(goal("White wins the exchange", "b", "") == "none");
    CHECK(goal("White to move. Win or draw?", "w", "") == "none");
    CHECK(goal("Win. Draw.", "w", "") == "none");
    CHECK(goal("+", "w", "") == "win by caption +");
    CHECK(goal("+", "b", "") == "none"); // by custom White wins, though Black moves
    CHECK(goal("=", "b", "") == "draw by caption =");
    for (const char* name : {"Perpetual check", "Black has won a pawn. How does White go on?",
                             "The only move", "Drawn", "White has won a pawn", "A piece down"}) {
        INFO(name);
        CHECK(goal(name, "w", "") == "none"); // tells a theme or a story
    }
    CHECK(goal("Find the only move", "w", "") == "hold by caption Find the only move");
    CHECK(goal("Selfmate in 3", "w", "") == "not checked by caption Selfmate in 3");
    CHECK(goal("White to move: win; Black to move: draw", "w", "") == "none");
}
