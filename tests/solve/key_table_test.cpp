// A verdict for every first move: mates against a solver that tries everything, plays against counting.

#include "brute.hpp"
#include "positions.hpp"

#include <map>

using board::Color;
using board::Move;
using board::Position;
using namespace solve_test;
using solve::Answer;
using solve::Certainty;
using solve::KeyTable;
using solve::MoveVerdict;
using solve::Question;
using solve::Solver;
using solve::Standing;

namespace {

const solve::Budget effort = solve::budget_of(solve::Effort::review);

std::string_view word(Standing standing) {
    constexpr std::string_view words[] = {"key",         "as good", "also wins", "less",
                                          "falls short", "better",  "open"};
    return words[static_cast<std::size_t>(standing)];
}

std::string_view word(Answer answer) {
    constexpr std::string_view words[] = {"yes", "no", "open"};
    return words[static_cast<std::size_t>(answer)];
}

/// What holds of every table, whatever the position.
void check_shape(const Position& at, const KeyTable& table, const Question& question) {
    INFO(fen(at));
    std::vector<Move> judged;
    for (const MoveVerdict& verdict : table.moves) {
        judged.push_back(verdict.move);
        INFO(board::write_san(at, verdict.move));
        REQUIRE_FALSE(verdict.line.empty());
        CHECK(verdict.line.front() == verdict.move);
        CHECK(play(at, verdict.line).has_value());
        CHECK((verdict.standing == Standing::key) == (&verdict == &table.moves.front()));
        CHECK(table.of(verdict.move) == &verdict);
        if (verdict.standing == Standing::open) {
            CHECK(verdict.certainty == Certainty::open);
        }
        if (verdict.certainty == Certainty::open) {
            CHECK((verdict.standing == Standing::open || verdict.standing == Standing::key));
        }
        if (verdict.reaches_goal != Answer::open) {
            CHECK(verdict.certainty != Certainty::open);
        }
    }
    CHECK(sans(at, judged) == sans(at, at.legal_moves()));
    CHECK(table.of(Move()) == nullptr);
    if (table.moves.empty()) {
        CHECK(table.best() == nullptr);
        return;
    }
    if (question.key) {
        CHECK(table.moves.front().move == *question.key);
    }
    for (std::size_t i = 2; i < table.moves.size(); ++i) {
        const MoveVerdict& above = table.moves[i - 1];
        const MoveVerdict& below = table.moves[i];
        CHECK((above.value.score > below.value.score ||
               (above.value.score == below.value.score && above.move.raw() < below.move.raw())));
    }
    for (const MoveVerdict& verdict : table.moves) {
        CHECK(verdict.value.score <= table.best()->value.score);
    }
}

KeyTable ask(const Position& at, const Question& question) {
    const KeyTable table = Solver(effort).table(at, question);
    check_shape(at, table, question);
    return table;
}

Question mate_in(const Position& at, int moves, std::string_view key) {
    Question question;
    question.mate_in = moves;
    question.key = move(at, key);
    return question;
}

Question wins(const Position& at, std::string_view key) {
    Question question;
    question.key = move(at, key);
    return question;
}

const MoveVerdict& verdict(const Position& at, const KeyTable& table, std::string_view san) {
    const MoveVerdict* found = table.of(move(at, san));
    REQUIRE(found != nullptr);
    return *found;
}

std::string_view standing(const Position& at, const KeyTable& table, std::string_view san) {
    return word(verdict(at, table, san).standing);
}

/// The moves of that standing, sorted.
std::vector<std::string> all_that(const Position& at, const KeyTable& table, Standing standing) {
    std::vector<Move> found;
    for (const MoveVerdict& v : table.moves) {
        if (v.standing == standing) {
            found.push_back(v.move);
        }
    }
    return sans(at, found);
}

using Sans = std::vector<std::string>;

/// No move but the key is said to reach the goal or to be as good.
void check_unique(const Position& at, const KeyTable& table) {
    CHECK(all_that(at, table, Standing::as_good) == Sans{});
    CHECK(all_that(at, table, Standing::better) == Sans{});
    CHECK(all_that(at, table, Standing::also_wins) == Sans{});
    CHECK(word(table.moves.front().reaches_goal) == "yes");
}

} // namespace

TEST_CASE("a sound mate in two: one key, and every other move refuted by proof") {
    const Position at = position("1k6/1p6/7R/8/5K2/4Q3/8/8 w - - 0 1");
    const KeyTable table = ask(at, mate_in(at, 2, "Rh7"));
    check_unique(at, table);
    CHECK(table.shortest_mate == 2);
    CHECK(table.mate_search_complete);
    CHECK(table.mate_searched_to >= 2);
    for (const MoveVerdict& v : table.moves) {
        CHECK(v.certainty == Certainty::proved);
        if (v.standing != Standing::key) {
            CHECK(word(v.standing) == "falls short");
            CHECK(word(v.reaches_goal) == "no");
        }
    }
    // The try fails to one reply only, and the table shows it.
    const solve::Line& line = verdict(at, table, "Qb6").line;
    REQUIRE(line.size() >= 2);
    CHECK(board::write_san(at.after(line[0]), line[1]) == "Kc8");
}

TEST_CASE("a cooked mate in two: the second key is as good, by proof") {
    const Position at = position("1k6/1p6/4K2R/8/8/4Q3/8/8 w - - 0 1");
    for (const auto& [key, cook] : {std::pair("Qb6", "Rh8+"), std::pair("Rh8+", "Qb6")}) {
        const KeyTable table = ask(at, mate_in(at, 2, key));
        CHECK(all_that(at, table, Standing::as_good) == Sans{cook});
        CHECK(verdict(at, table, cook).certainty == Certainty::proved);
        CHECK(verdict(at, table, cook).value.mate_in == 2);
        CHECK(play(at, verdict(at, table, cook).line)->is_checkmate());
    }
}

TEST_CASE("no mate in two where two were promised: the key fails, by proof") {
    const Position at = position("1k6/1p6/7R/8/3K4/4Q3/8/8 w - - 0 1");
    const KeyTable table = ask(at, mate_in(at, 2, "Rh7"));
    CHECK(word(table.moves.front().reaches_goal) == "no");
    CHECK(table.moves.front().certainty == Certainty::proved);
    CHECK(table.shortest_mate.value_or(3) >= 3);
    for (const MoveVerdict& v : table.moves) {
        CHECK(word(v.reaches_goal) == "no");
    }
}

TEST_CASE("a shorter mate than the one promised is better than a slow key") {
    const Position at = position("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1");
    const KeyTable slow = ask(at, mate_in(at, 2, "h3"));
    CHECK(slow.shortest_mate == 1);
    CHECK(standing(at, slow, "Rd8#") == "better");
    CHECK(word(slow.moves.front().reaches_goal) == "no");
    const KeyTable quick = ask(at, mate_in(at, 2, "Rd8#"));
    CHECK(word(quick.moves.front().reaches_goal) == "yes");
    CHECK(quick.moves.front().value.mate_in == 1);
}

TEST_CASE("promotions of one pawn are different keys") {
    const Position at = position("7k/P7/6K1/8/8/8/8/8 w - - 0 1");
    const KeyTable table = ask(at, mate_in(at, 1, "a8=Q#"));
    CHECK(all_that(at, table, Standing::as_good) == Sans{"a8=R#"});
    CHECK(standing(at, table, "a8=N") == "falls short");
}

TEST_CASE("in random diagrams every first move stands where trying everything puts it") {
    constexpr std::string_view sets[] = {"KQRkp", "KQNkr", "KQBPkp", "KRRNkpp", "KQPknpp"};
    Random random(73);
    std::map<Standing, int> seen;
    for (int i = 0; i < 300 / share; ++i) {
        const auto at = diagram(random, sets[static_cast<std::size_t>(i) % std::size(sets)], Color::white);
        const int goal = 2 + i / 5 % 2;
        if (!at || at->legal_moves().empty() || !shortest_mate(*at, goal)) {
            continue;
        }
        INFO(fen(*at) << " mate in " << goal);
        std::map<std::uint16_t, int> lengths; // by move; missing: none
        for (int moves = goal; moves >= 1; --moves) {
            for (const Move m : mating_moves(*at, moves)) {
                lengths[m.raw()] = moves;
            }
        }
        const board::MoveList moves = at->legal_moves();
        Question question;
        question.mate_in = goal;
        // Every other time a quickest mate, else any move.
        question.key = i % 2 == 0 ? mating_moves(*at, *shortest_mate(*at, goal)).front()
                                  : moves[random.below(moves.size())];
        const auto key = lengths.find(question.key->raw());
        const int aim = key == lengths.end() ? goal : key->second;
        const KeyTable table = ask(*at, question);
        CHECK(table.mate_search_complete);
        CHECK(table.shortest_mate == shortest_mate(*at, goal));
        for (const MoveVerdict& v : table.moves) {
            INFO(board::write_san(*at, v.move));
            const auto length = lengths.find(v.move.raw());
            const bool mates = length != lengths.end();
            CHECK(word(v.reaches_goal) == (mates ? "yes" : "no"));
            CHECK(v.certainty == Certainty::proved);
            if (mates) {
                CHECK(v.value.mate_in == length->second);
                CHECK(v.line.size() == static_cast<std::size_t>(2 * length->second - 1));
                CHECK(play(*at, v.line)->is_checkmate());
            }
            const Standing right = v.move == *question.key ? Standing::key
                                   : !mates                ? Standing::falls_short
                                   : length->second < aim  ? Standing::better
                                   : length->second == aim ? Standing::as_good
                                                           : Standing::also_wins;
            CHECK(word(v.standing) == word(right));
            ++seen[right];
        }
    }
    for (const Standing s :
         {Standing::as_good, Standing::better, Standing::also_wins, Standing::falls_short}) {
        INFO(word(s));
        CHECK(seen[s] >= 8 / share);
    }
}

TEST_CASE("a fork that wins the queen is the only key") {
    const Position at = position("2q3k1/5ppp/8/3N4/8/8/5PPP/6K1 w - - 0 1");
    const KeyTable table = ask(at, wins(at, "Ne7+"));
    check_unique(at, table);
    CHECK(table.moves.front().certainty == Certainty::searched);
    CHECK_FALSE(table.decided_before);
    CHECK(table.moves.front().value.score >= 200);
    CHECK(table.moves.front().value_is == solve::ValueIs::exact);
    CHECK(standing(at, table, "h3") == "falls short");
    CHECK(word(verdict(at, table, "h3").reaches_goal) == "no");
    CHECK(verdict(at, table, "h3").value_is == solve::ValueIs::at_most);
    CHECK(table.key_stands_out());
    // The same with another move printed: the fork is better, and the printed one fails.
    const KeyTable wrong = ask(at, wins(at, "g4"));
    CHECK(standing(at, wrong, "Ne7+") == "better");
    CHECK(word(wrong.moves.front().reaches_goal) == "no");
    // Without a printed key the best move takes its place.
    const KeyTable unprinted = ask(at, Question{});
    CHECK(unprinted.moves.front().move == move(at, "Ne7+"));
    CHECK(unprinted.best()->move == move(at, "Ne7+"));
    // A printed move that cannot be played is no key.
    Question unplayable;
    unplayable.key = Move::normal(board::Square::a1, board::Square::a8);
    const KeyTable replaced = Solver(effort).table(at, unplayable);
    CHECK(replaced.moves.front().move == move(at, "Ne7+"));
}

TEST_CASE(
    "in a level position the moves that come near the key are told as such, whatever bound answered it") {
    const Position at = position("3r2k1/1p3pp1/2p1n2p/p7/P2P1PP1/1NR4P/5K2/8 w - - 0 1");
    Question level;
    level.key = move(at, "Ke3");
    const KeyTable table = ask(at, level);
    CHECK_FALSE(table.key_stands_out());
    for (const solve::MoveVerdict& verdict : std::span(table.moves).subspan(1)) {
        INFO(board::write_san(at, verdict.move));
        CHECK(verdict.below_key == (verdict.value_is == solve::ValueIs::at_most));
    }
}

TEST_CASE("two ways to take the queen are as good as each other") {
    const Position at = position("4k3/5p2/8/3q4/8/1B6/3R1P2/4K3 w - - 0 1");
    const KeyTable table = ask(at, wins(at, "Rxd5"));
    CHECK(standing(at, table, "Bxd5") == "as good");
    CHECK(word(verdict(at, table, "Bxd5").reaches_goal) == "yes");
    CHECK(word(table.moves.front().reaches_goal) == "yes");
    CHECK(standing(at, table, "f3") == "falls short");
}

TEST_CASE("a win clearly less than the key's also wins, and `near` and the goal draw the lines") {
    // 1.Qd3 wins a knight, 1.Bxh7+ a pawn; White is three pawns up before.
    const Position at = position("5rk1/5ppp/np6/8/8/7P/2B2PP1/3Q2K1 w - - 0 1");
    Question question = wins(at, "Qd3");
    const KeyTable decided = ask(at, question);
    CHECK(decided.decided_before);
    CHECK(all_that(at, decided, Standing::as_good) == Sans{});
    CHECK(all_that(at, decided, Standing::also_wins) == Sans{});
    CHECK(all_that(at, decided, Standing::better) == Sans{});

    question.goal_score = 350;
    const KeyTable lesser = ask(at, question);
    CHECK_FALSE(lesser.decided_before);
    CHECK(word(lesser.moves.front().reaches_goal) == "yes");
    CHECK(standing(at, lesser, "Bxh7+") == "also wins");
    CHECK(word(verdict(at, lesser, "Bxh7+").reaches_goal) == "yes");

    question.goal_score = 500;
    const KeyTable strict = ask(at, question);
    CHECK(word(strict.moves.front().reaches_goal) == "yes");
    CHECK(standing(at, strict, "Bxh7+") == "falls short");
    CHECK(word(verdict(at, strict, "Bxh7+").reaches_goal) == "no");

    question.goal_score = 350;
    question.near = 1000;
    const KeyTable lenient = ask(at, question);
    CHECK(standing(at, lenient, "Bxh7+") == "as good");
}

TEST_CASE("a mate by the way is found in a puzzle that only asks to win") {
    const Position quick = position("6k1/5ppp/8/8/8/8/q4PPP/3R2K1 w - - 0 1");
    const KeyTable table = ask(quick, wins(quick, "Rd8#"));
    check_unique(quick, table);
    CHECK(table.moves.front().certainty == Certainty::proved);
    CHECK(table.moves.front().value.mate_in == 1);
    CHECK(table.shortest_mate == 1);
    const KeyTable missed = ask(quick, wins(quick, "h3"));
    CHECK(standing(quick, missed, "Rd8#") == "better");
}

// Edward Lasker and Thomas, London 1912, before the eleventh move; the position from memory.
TEST_CASE("a mate beyond the complete search is proved, its length an upper bound") {
    const Position driven = position("rn3rk1/pbppq1pp/1p2pb2/4N2Q/3PN3/3B4/PPP2PPP/R3K2R w KQ - 0 11");
    const MoveVerdict key = ask(driven, wins(driven, "Qxh7+")).moves.front();
    CHECK(key.certainty == Certainty::proved);
    REQUIRE(key.value.mate_in.has_value());
    CHECK(*key.value.mate_in > effort.mate_moves);
    CHECK(*key.value.mate_in <= 8); // he mated with the eighth
    CHECK(key.value_is == solve::ValueIs::at_least);
    const Position quick = position("6k1/5ppp/8/8/8/8/q4PPP/3R2K1 w - - 0 1");
    CHECK(ask(quick, wins(quick, "Rd8#")).moves.front().value_is == solve::ValueIs::exact);
}

TEST_CASE("the only move that draws") {
    struct Drawn {
        const char* fen;
        const char* key;
    };
    const auto drawn = GENERATE(values<Drawn>({
        {"6k1/6p1/8/7Q/8/8/qr4PP/7K w - - 0 1", "Qe8+"}, // perpetual check
        {"7k/7p/8/8/8/1q2r3/8/K5Q1 w - - 0 1", "Qg7+"},  // stalemate
        {"8/8/8/8/8/5k2/3p4/4K3 w - - 0 1", "Kxd2"},     // a dead position
    }));
    const Position at = position(drawn.fen);
    Question question = wins(at, drawn.key);
    question.goal_score = 0;
    question.draw_suffices = true;
    const KeyTable table = ask(at, question);
    check_unique(at, table);
    CHECK_FALSE(table.decided_before);
    CHECK(std::abs(table.moves.front().value.score) <= 60);
    CHECK(all_that(at, table, Standing::falls_short).size() + 1 == table.moves.size());
}

TEST_CASE("where a draw suffices all drawing moves are equal, and a win is better") {
    const Position at = position("8/8/4k3/8/8/4K3/8/R6r w - - 0 1");
    Question question = wins(at, "Ra6+");
    question.goal_score = 0;
    question.draw_suffices = true;
    const KeyTable table = ask(at, question);
    CHECK(word(table.moves.front().reaches_goal) == "yes");
    CHECK(standing(at, table, "Ra5") == "as good");
    CHECK(standing(at, table, "Rxh1") == "better");
    CHECK(standing(at, table, "Rb1") == "falls short");
}

TEST_CASE("exactly one move wins the pawn ending: no rival is said to win as well") {
    const Position at = position("8/8/3k4/8/8/2P1K3/8/8 w - - 0 1");
    const KeyTable table = ask(at, wins(at, "Kd4"));
    CHECK(word(table.moves.front().reaches_goal) != "no");
    for (const Standing s : {Standing::as_good, Standing::also_wins, Standing::better}) {
        CHECK(all_that(at, table, s) == Sans{});
    }
    // Either order of the first two steps wins.
    const Position inverted = position("2k5/8/p1P5/P2K4/8/8/8/8 w - - 0 1");
    const KeyTable both = ask(inverted, wins(inverted, "Kc4"));
    CHECK(word(both.moves.front().reaches_goal) != "no");
    CHECK(word(verdict(inverted, both, "Kd4").reaches_goal) != "no");
}

TEST_CASE("colours exchanged the table is the same") {
    for (const auto& [text, key] : {std::pair("2q3k1/5ppp/8/3N4/8/8/5PPP/6K1 w - - 0 1", "Ne7+"),
                                    std::pair("3q2k1/5ppp/8/8/8/3B4/5PPP/3R2K1 w - - 0 1", "Bxh7+")}) {
        const Position at = position(text);
        const Position other = mirrored(at);
        const KeyTable table = ask(at, wins(at, key));
        Question question;
        const Move m = move(at, key);
        question.key = Move::normal(board::square_at(board::index(m.from()) ^ 56),
                                    board::square_at(board::index(m.to()) ^ 56));
        const KeyTable same = ask(other, question);
        CHECK(same.moves.front().reaches_goal == table.moves.front().reaches_goal);
        CHECK(all_that(other, same, Standing::falls_short).size() ==
              all_that(at, table, Standing::falls_short).size());
        CHECK(same.decided_before == table.decided_before);
    }
}

TEST_CASE("where there is no move there is no verdict") {
    for (const char* text : {"7k/5Q2/6K1/8/8/8/8/8 b - - 0 1", "R5k1/5ppp/8/8/8/8/8/6K1 b - - 0 1"}) {
        const KeyTable table = ask(position(text), Question{});
        CHECK(table.moves.empty());
        CHECK_FALSE(table.shortest_mate.has_value());
    }
}

TEST_CASE("the only legal move is the key, whatever it is worth") {
    const Position at = position("7k/8/5q2/8/8/8/r7/7K w - - 0 1");
    REQUIRE(at.legal_moves().size() == 1);
    const KeyTable table = ask(at, Question{});
    CHECK(word(table.moves.front().standing) == "key");
}

TEST_CASE("a move that lets itself be mated at once is proved to fall short; later mates are searched") {
    const Position at = position("6k1/5ppp/8/8/8/8/r4PPP/1R4K1 w - - 0 1");
    const KeyTable table = ask(at, wins(at, "Rb8#"));
    for (const Position& start : {at, mirrored(at)}) {
        int at_once = 0;
        const KeyTable found = start.turn() == Color::white ? table : ask(start, Question{});
        for (const MoveVerdict& v : found.moves) {
            INFO(board::write_san(start, v.move));
            if (v.value.mate_in == -1) {
                ++at_once;
                CHECK(word(v.standing) == "falls short");
                CHECK(word(v.reaches_goal) == "no");
                CHECK(v.certainty == Certainty::proved);
                REQUIRE(v.line.size() == 2);
                CHECK(play(start, v.line)->is_checkmate());
            }
        }
        CHECK(at_once > 0);
    }
    const Position later = position("6k1/1q3ppp/8/8/8/8/r4PPP/1RQ3K1 w - - 0 1");
    const KeyTable slower = ask(later, wins(later, "Rxb7"));
    CHECK(verdict(later, slower, "Qc3").value.mate_in == -2);
    CHECK(verdict(later, slower, "Qc3").certainty == Certainty::searched);
}
