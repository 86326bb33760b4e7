#include "collection/movetext.hpp"

#include "from_text.hpp"
#include "reading.hpp"

using namespace collection;
using from_text::position;
using reading::moves;
using reading::Texts;

namespace {

Movetext read_moves(std::string_view text, const board::Position& start = board::Position(),
                    Notation notation = Notation::san, FirstMove first = FirstMove::solver) {
    return read_movetext(Source(text, {0, text.size()}), start, notation, first);
}

/// "e4 e5 (c5) ...": the tree in the order of movetext.
std::string shape(const MoveTree& tree, std::size_t node = 0) {
    std::string text;
    while (!tree.nodes[node].children.empty()) {
        const auto& children = tree.nodes[node].children;
        text += (text.empty() ? "" : " ") + tree.nodes[children.front()].text;
        for (std::size_t i = 1; i < children.size(); ++i) {
            const std::string rest = shape(tree, children[i]);
            text += " (" + tree.nodes[children[i]].text + (rest.empty() ? "" : " " + rest) + ")";
        }
        node = children.front();
    }
    return text;
}

std::vector<MoveStatus> statuses(const MoveTree& tree) {
    std::vector<MoveStatus> list;
    for (std::size_t i = 1; i < tree.nodes.size(); ++i) {
        list.push_back(tree.nodes[i].status);
    }
    return list;
}

} // namespace

TEST_CASE("the sample game of the PGN standard 1994, section 2.3, plays to its end") {
    const std::string text =
        "1. e4 e5 2. Nf3 Nc6 3. Bb5 {This opening is called the Ruy Lopez.} 3... a6\n"
        "4. Ba4 Nf6 5. O-O Be7 6. Re1 b5 7. Bb3 d6 8. c3 O-O 9. h3 Nb8 10. d4 Nbd7\n"
        "11. c4 c6 12. cxb5 axb5 13. Nc3 Bb7 14. Bg5 b4 15. Nb1 h6 16. Bh4 c5 17. dxe5\n"
        "Nxe4 18. Bxe7 Qxe7 19. exd6 Qf6 20. Nbd2 Nxd6 21. Nc4 Nxc4 22. Bxc4 Nb6\n"
        "23. Ne5 Rae8 24. Bxf7+ Rxf7 25. Nxf7 Rxe1+ 26. Qxe1 Kxf7 27. Qe3 Qg5 28. Qxg5\n"
        "hxg5 29. b3 Ke6 30. a3 Kd6 31. axb4 cxb4 32. Ra5 Nd5 33. f3 Bc8 34. Kf2 Bf5\n"
        "35. Ra7 g6 36. Ra6+ Kc5 37. Ke1 Nf4 38. g3 Nxh3 39. Kd2 Kb5 40. Rd6 Kc5 41. Ra6\n"
        "Nf2 42. g4 Bd3 43. Re6 1/2-1/2\n";
    const Movetext game = read_moves(text);
    CHECK(game.faults.empty());
    CHECK(game.tree.main_line().size() == 85);
    REQUIRE(game.tree.result);
    CHECK(game.tree.result->value == "1/2-1/2");
    REQUIRE(game.tree.nodes[5].comments.size() == 1);
    CHECK(game.tree.nodes[5].comments[0].text == "This opening is called the Ruy Lopez.");
    REQUIRE(game.tree.nodes[6].number);
    CHECK(game.tree.nodes[6].number->black);
    CHECK(game.tree.nodes[6].number->number == 3);
}

TEST_CASE("a variation replaces the move before it (section 8.2.5)") {
    const Movetext text = read_moves("1. e4 e5 (1... c5 2. Nf3 (2. Nc3 Nc6) 2... d6) (1... e6) 2. Nf3 *");
    CHECK(shape(text.tree) == "e4 e5 (c5 Nf3 (Nc3 Nc6) d6) (e6) Nf3");
    CHECK(text.faults.empty());
    CHECK(text.tree.depth(3) == 2);
    CHECK(text.tree.moves_to(3).size() == 2);
    CHECK(text.tree.position_at(board::Position(), 3).turn() == board::Color::white);
}

TEST_CASE("move numbers in all the ways people write them") {
    for (const std::string_view text :
         {"1. e4 e5 2. Nf3", "1.e4 e5 2.Nf3", "1 e4 e5 2 Nf3", "1. e4 1... e5 2. Nf3",
          "1. e4 1. ... e5 2. Nf3", "1.e4 1..e5 2.Nf3", "1. e4 1… e5 2. Nf3", "1. e4 … e5 2. Nf3",
          "1e4 e5 2Nf3", "1. . e4 e5 2. Nf3", "e4 e5 Nf3", "1. e4, e5, 2. Nf3", "1.\ne4\r\ne5\r2.\tNf3",
          "1. e4 e5. 2. Nf3"}) {
        INFO(text);
        const Movetext read_text = read_moves(text);
        CHECK(shape(read_text.tree) == "e4 e5 Nf3");
        CHECK(read_text.faults.empty());
        CHECK(statuses(read_text.tree) == std::vector<MoveStatus>(3, MoveStatus::legal));
    }
    const Movetext text = read_moves("12. ... e4");
    REQUIRE(text.first_number);
    CHECK(text.first_number->color == board::Color::black);
    CHECK(text.first_number->span == Span{0, 7});
    CHECK_FALSE(read_moves("12 e4").first_number); // without dots it says nothing
    CHECK(read_moves("1. e4").first_number->color == board::Color::white);
    REQUIRE(read_moves("1... *").first_number);
    CHECK(read_moves("99999999999999999999. e4").tree.nodes[1].number->number > 0);
}

TEST_CASE("suffixes, numbered glyphs and printed signs") {
    const auto glyphs = [](std::string_view text) { return read_moves(text).tree.nodes.at(1).glyphs; };
    CHECK(glyphs("e4!") == std::vector<int>{1});
    CHECK(glyphs("e4?") == std::vector<int>{2});
    CHECK(glyphs("e4!!") == std::vector<int>{3});
    CHECK(glyphs("e4??") == std::vector<int>{4});
    CHECK(glyphs("e4!?") == std::vector<int>{5});
    CHECK(glyphs("e4?!") == std::vector<int>{6});
    CHECK(glyphs("e4 !") == std::vector<int>{1});
    CHECK(glyphs("e4!!!") == std::vector<int>{3});
    CHECK(glyphs("e4 $1 $18") == std::vector<int>{1, 18});
    CHECK(glyphs("e4!±") == std::vector<int>{1, 16});
    CHECK(glyphs("e4 □") == std::vector<int>{8});
    CHECK(glyphs("e4 +-") == std::vector<int>{18});
    CHECK(glyphs("e4+-") == std::vector<int>{18});
    CHECK(glyphs("e4 +/=") == std::vector<int>{14});
    CHECK(glyphs("e4 =") == std::vector<int>{10});
    CHECK(glyphs("e4 \xb1") == std::vector<int>{16}); // Latin-1
    CHECK(glyphs("e4\xb1") == std::vector<int>{16});
    CHECK(glyphs("e4 (!) e5").empty());
    CHECK(read_moves("e4\xb1").tree.nodes[1].span == Span{0, 2});
    CHECK(read_moves("e4?").tree.marked_as_failing(1));
    CHECK(read_moves("e4 $6").tree.marked_as_failing(1));
    CHECK_FALSE(read_moves("e4!?").tree.marked_as_failing(1));
    CHECK(read_moves("e4 $256").faults.size() == 1);
    CHECK(read_moves("e4 $").faults.size() == 1);
    CHECK(read_moves("e4 $99999999999999999999").faults.size() == 1);
}

TEST_CASE("comments: braces do not nest, a semicolon runs to the line's end (section 5)") {
    const Movetext text =
        read_moves("{before} 1. e4 {a { b} ; rest ) } of the line\n e5 ({first} 1... c5) 2. Nf3");
    CHECK(shape(text.tree) == "e4 e5 (c5) Nf3");
    CHECK(text.faults.empty());
    CHECK(text.tree.nodes[0].comments.at(0).text == "before");
    CHECK(text.tree.nodes[1].comments.at(0).text == "a { b");
    CHECK(text.tree.nodes[1].comments.at(1).text == "rest ) } of the line");
    CHECK(text.tree.nodes[3].comments.at(0).text == "first"); // about the variation's first move
    const Movetext nested = read_moves("e4 { a { nested } comment } e5");
    CHECK(nested.faults.size() == 1); // the second brace closes nothing
    CHECK(read_moves("e4 {").faults.size() == 1);
    CHECK(read_moves("e4 ({only words}) e5").tree.nodes[1].comments.size() == 1);
}

TEST_CASE("moves joined by a word share what follows") {
    const Movetext text = read_moves("1. e4 e5 or 1... c5! {both} 2. Nf3 (2. Nc3 or d4) 2... Nc6");
    CHECK(shape(text.tree) == "e4 e5 (c5) Nf3 (Nc3) (d4) Nc6");
    CHECK(text.faults.empty());
    CHECK(text.tree.nodes[3].alike);
    CHECK_FALSE(text.tree.nodes[2].alike);
    CHECK(text.tree.nodes[3].glyphs == std::vector<int>{1});
    CHECK(text.tree.nodes[3].comments.at(0).text == "both");
    CHECK(shape(read_moves("1. e4 e5 or ( 1... c5 2. Nf3 ) 2. d4").tree) == "e4 e5 (c5 Nf3) d4");
    CHECK(statuses(text.tree) == std::vector<MoveStatus>(7, MoveStatus::legal));
    CHECK(read_moves("or 1. e4 or").tree.nodes.size() == 3); // no move before it: a word that is none
    CHECK(read_moves("1. e4 e5 or").tree.nodes.size() == 3);
}

TEST_CASE("a percent sign in the first column escapes the line (section 6)") {
    CHECK(shape(read_moves("1. e4\n% 1. d4 (\ne5").tree) == "e4 e5");
    CHECK(read_moves("1. e4 %e5").tree.nodes[2].status == MoveStatus::unreadable);
}

TEST_CASE("moves that cannot be played keep their text and their reason") {
    CHECK(statuses(read_moves("1. e5 d5").tree) == std::vector{MoveStatus::illegal, MoveStatus::unchecked});
    CHECK(statuses(read_moves("1. e4 Se5 2. Dh5").tree) ==
          std::vector{MoveStatus::legal, MoveStatus::illegal, MoveStatus::unchecked});
    CHECK(statuses(read_moves("1. Dh5 any").tree) ==
          std::vector{MoveStatus::unreadable, MoveStatus::unchecked});
    CHECK(statuses(read_moves("1. e4 any! 2. d4").tree) ==
          std::vector{MoveStatus::legal, MoveStatus::any, MoveStatus::unchecked});
    CHECK(statuses(read_moves("1. e4 1...~ (1... N~ 2. d4) (1... else 2. d4) 2. d4 (2. ~)").tree) ==
          std::vector{MoveStatus::legal, MoveStatus::any, MoveStatus::any, MoveStatus::unchecked,
                      MoveStatus::any, MoveStatus::unchecked, MoveStatus::unchecked, MoveStatus::unchecked});
    CHECK(statuses(read_moves("1. e4 ~~ 2. d4").tree) ==
          std::vector{MoveStatus::legal, MoveStatus::unreadable, MoveStatus::unchecked});
    CHECK(statuses(read_moves("1. e4 -- 2. d4").tree) ==
          std::vector{MoveStatus::legal, MoveStatus::null, MoveStatus::unchecked});
    CHECK(statuses(read_moves("Nd2", position("4k3/8/8/8/8/1N3N2/8/4K3 w - - 0 1")).tree) ==
          std::vector{MoveStatus::ambiguous});
    CHECK(statuses(read_moves("1. e4 e4 (1... e5 2. Nf3)").tree) ==
          std::vector{MoveStatus::legal, MoveStatus::illegal, MoveStatus::legal, MoveStatus::legal});
    CHECK(read_moves("1. e4 e4 2. d4").tree.main_line().size() == 1);
    const std::string_view text = "1. e4 Kf 2. d4";
    CHECK(statuses(read_movetext(Source(text, {0, text.size()}), std::nullopt).tree) ==
          std::vector<MoveStatus>(3, MoveStatus::unchecked));
}

TEST_CASE("check signs and e.p. behind a blank belong to the move") {
    const Movetext text =
        read_moves("Qd1 + Kh2", position("1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - 0 1"));
    CHECK(text.tree.nodes[1].text == "Qd1+");
    CHECK(text.tree.nodes[1].span == Span{0, 5});
    const Movetext passing = read_moves("exd6 e.p. Kd7", position("4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1"));
    CHECK(statuses(passing.tree) == std::vector{MoveStatus::legal, MoveStatus::legal});
    CHECK(read_moves("e8(Q) Kd7", position("8/4P3/2k5/8/8/8/8/4K3 w - - 0 1")).tree.nodes.size() == 3);
}

TEST_CASE("coordinates are read where they are no SAN") {
    CHECK(statuses(read_moves("e2e4 g8f6").tree) == std::vector<MoveStatus>(2, MoveStatus::legal));
    CHECK(statuses(read_moves("e2e4 Nf6", board::Position(), Notation::coordinate).tree) ==
          std::vector{MoveStatus::legal, MoveStatus::unreadable});
    CHECK(statuses(read_moves("e2e5", board::Position(), Notation::coordinate).tree) ==
          std::vector{MoveStatus::illegal});
    const auto promoting = position("8/4P3/2k5/8/8/8/8/4K3 w - - 0 1");
    CHECK(read_moves("e7e8q", promoting, Notation::coordinate).tree.nodes.at(1).status == MoveStatus::legal);
    CHECK(read_moves("e7e8q", promoting).tree.nodes.at(1).text == "e7e8q");
}

TEST_CASE("a first move by the opponent leads into the diagram") {
    const Movetext text =
        read_moves("e2e4 e7e5 g1f3", board::Position(), Notation::coordinate, FirstMove::opponent);
    REQUIRE(text.lead_in);
    CHECK(text.lead_in->value == "e2e4");
    CHECK(text.lead_in_played);
    CHECK(moves(text.tree) == Texts{"e7e5", "g1f3"});
    CHECK(text.diagram->turn() == board::Color::black);
    const Movetext broken =
        read_moves("e2e5 e7e5", board::Position(), Notation::coordinate, FirstMove::opponent);
    CHECK_FALSE(broken.diagram);
    CHECK(broken.faults.size() == 1);
    CHECK(statuses(broken.tree) == std::vector{MoveStatus::unchecked});
}

TEST_CASE("results end the text outside variations only") {
    for (const auto& [written, result] :
         std::vector<std::pair<std::string, std::string>>{{"1-0", "1-0"},
                                                          {"0-1", "0-1"},
                                                          {"1/2-1/2", "1/2-1/2"},
                                                          {"½-½", "1/2-1/2"},
                                                          {"\xbd-\xbd", "1/2-1/2"},
                                                          {"*", "*"}}) {
        const Movetext text = read_moves("1. e4 (1. d4 0-1) e5 " + written + " 2. Nf3");
        REQUIRE(text.tree.result);
        CHECK(text.tree.result->value == result);
        CHECK(shape(text.tree) == "e4 (d4) e5");
    }
    CHECK(read_moves("1. e4*").tree.result->value == "*");
    CHECK(shape(read_moves("1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 4. 0-0").tree) == "e4 e5 Nf3 Nc6 Bc4 Bc5 0-0");
}

TEST_CASE("variations that do not pair are faults, and the rest is read") {
    CHECK(read_moves("1. e4 (1. d4 e5").faults.size() == 1);
    CHECK(shape(read_moves("1. e4 e5) 2. Nf3").tree) == "e4 e5 Nf3");
    CHECK(read_moves("1. e4 e5) 2. Nf3").faults.size() == 1);
    const Movetext first = read_moves("(1. d4 {)} d5) 1. e4");
    CHECK(shape(first.tree) == "e4");
    CHECK(first.faults.size() == 1);
    CHECK(read_moves("1. e4 ( ) e5").faults.size() == 1);
    CHECK(read_moves("1. e4 ( {words} ) e5 (!) (N)").faults.empty());
}

TEST_CASE("a sign without a move is said to be lost") {
    CHECK(read_moves("$1 1. e4").faults.size() == 1);
    CHECK(read_moves("! 1. e4").faults.size() == 1);
    CHECK(read_moves("1. e4 e5 ($2 1... c5)").faults.size() == 1);
    CHECK(read_moves("$13 1. e4 e5 ($142 1... c5) ($0 1... c6) 2. Nf3 ! $14").faults.empty());
}
