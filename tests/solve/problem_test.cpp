// Threats, set play, tries and duals: facts one by one, against a solver that tries everything, and on any
// budget.

#include "brute.hpp"
#include "positions.hpp"
#include "problem_check.hpp"

#include <fstream>
#include <tuple>

using board::Move;
using board::Position;
using namespace solve_test;
using solve::Answer;
using solve::Problem;
using solve::Solver;
using solve::Ways;

namespace {

using Sans = std::vector<std::string>;

Problem examine(const Position& at, Move key, int moves) {
    return Solver(ample).problem(at, {key, moves});
}

Problem examine(const Position& at, std::string_view key, int moves) {
    return examine(at, move(at, key), moves);
}

/// "Kf1 Qa1# Qd1#": a move and what answers it.
std::string text(const Position& at, Move first, const std::vector<Move>& second) {
    std::string words = board::write_san(at, first);
    for (const std::string& san : sans(at.after(first), second)) {
        words += ' ' + san;
    }
    return words;
}

Sans texts(const Position& at, const std::vector<solve::Try>& tries) {
    Sans found;
    for (const solve::Try& tried : tries) {
        found.push_back(text(at, tried.move, tried.refutations));
    }
    return found;
}

Sans set_mates(const Position& at, const Problem& problem) {
    REQUIRE(problem.set_play.has_value());
    Sans found;
    for (const solve::SetMate& mate : problem.set_play->mates) {
        found.push_back(text(*at.passed(), mate.reply, mate.answer.moves) + (mate.changed ? " changed" : ""));
    }
    return found;
}

Sans variations(const Position& at, const Problem& problem, Ways ways) {
    REQUIRE(problem.variations.has_value());
    Sans found;
    for (const solve::Variation& variation : *problem.variations) {
        if (variation.ways == ways) {
            found.push_back(text(at.after(problem.key), variation.reply, variation.answer.moves));
        }
    }
    return found;
}

/// Diagrams of the published mates in two of tests/reference.
std::vector<Position> composed() {
    std::ifstream lines(SIDELINT_SOURCE_DIR "/tests/reference/data/solve-composed.tsv");
    REQUIRE(lines);
    std::vector<Position> found;
    for (std::string line; std::getline(lines, line);) {
        const std::size_t cut = line.find(" w - - 0 1\t2\t");
        if (line[0] != '#' && cut != std::string::npos) {
            found.push_back(position(line.substr(line.rfind('\t', cut) + 1, cut) + " w - - 0 1"));
        }
    }
    return found;
}

} // namespace

TEST_CASE("the play of composed mates in two is what trying everything finds") {
    const auto problems = composed();
    CHECK(problems.size() == 23);
    PlayTally tally;
    for (std::size_t i = 0; i < problems.size(); i += share) {
        const auto keys = mating_moves(problems[i], 2);
        REQUIRE(keys.size() == 1);
        check_by_trying(problems[i], keys.front(), 2, tally);
    }
    CHECK(tally.blocks > 0);
    CHECK(tally.threats > 0);
    CHECK(tally.tries >= 40 / share);
    CHECK(tally.weak_tries >= 40 / share);
#ifdef NDEBUG
    CHECK(tally.complete_blocks >= 4);
    CHECK(tally.mutates >= 3);
    CHECK(tally.changed >= 10);
    for (const Ways ways :
         {Ways::one, Ways::dual, Ways::promotion_dual, Ways::multiple_threat, Ways::threat_and_other}) {
        INFO(static_cast<int>(ways));
        CHECK(tally.ways[ways] > 0);
    }
#endif
}

TEST_CASE("in random diagrams too, whatever is taken for the key, in two and in three") {
    constexpr std::string_view sets[] = {"KQRkp",  "KRRNkpp", "KQNkr", "KPPPkpp",
                                         "KQBPkp", "KQPknpp", "KQQkqr"};
    Random random(91);
    PlayTally tally;
    int examined = 0;
    for (int i = 0; i < 900 / share; ++i) {
        const board::Color turn = i % 4 == 3 ? board::Color::black : board::Color::white;
        const auto at = diagram(random, sets[static_cast<std::size_t>(i) % std::size(sets)], turn);
        if (!at || at->legal_moves().empty()) {
            continue;
        }
        const auto length = shortest_mate(*at, 3);
        const int moves = std::max(length.value_or(2), 2);
        const board::MoveList all = at->legal_moves();
        // Mostly a key, now and then any move.
        const Move key =
            length && i % 5 != 0 ? mating_moves(*at, moves).front() : all[random.below(all.size())];
        if (length || i % 10 == 0) {
            check_by_trying(*at, key, moves, tally);
            ++examined;
        }
    }
    CHECK(examined >= 150 / share);
    CHECK(tally.blunders > 0);
    CHECK(tally.tries >= 50 / share);
    for (const Ways ways : {Ways::one, Ways::dual, Ways::sooner, Ways::multiple_threat}) {
        INFO(static_cast<int>(ways));
        CHECK(tally.ways[ways] > 0);
    }
}

// ---- facts one by one; each is also held against trying everything above or below

TEST_CASE("a waiting key, its try and its refutation") {
    const Position at = position("1k6/1p6/7R/8/5K2/4Q3/8/8 w - - 0 1");
    const Problem problem = examine(at, "Rh7", 2);
    CHECK(problem.is_block());
    CHECK_FALSE(problem.key_checks);
    CHECK(variations(at, problem, Ways::one) == Sans{"b5 Qe8#", "b6 Qe8#", "Ka8 Rh8#", "Kc8 Qe8#"});
    CHECK(set_mates(at, problem) == Sans{"Ka8 Rh8#"});
    CHECK_FALSE(problem.set_play->complete_block());
    CHECK(texts(at, problem.tries) == Sans{"Qb6 Kc8"});
    CHECK(problem.flights_taken == std::vector{board::Square::c7});
    CHECK(problem.complete);
}

TEST_CASE("two keys: neither is a try of the other") {
    const Position at = position("1k6/1p6/4K2R/8/8/4Q3/8/8 w - - 0 1");
    for (const char* key : {"Qb6", "Rh8+"}) {
        const Problem problem = examine(at, key, 2);
        CHECK(problem.key_solves == Answer::yes);
        CHECK(texts(at, problem.tries) == Sans{});
    }
    const Problem checking = examine(at, "Rh8+", 2);
    CHECK(checking.key_checks);
    CHECK_FALSE(checking.threats.has_value());
    CHECK_FALSE(checking.is_block());
    const Problem threatening = examine(at, "Qb6", 2);
    REQUIRE(threatening.threats.has_value());
    CHECK(sans(*at.after(threatening.key).passed(), threatening.threats->moves) == Sans{"Rh8#"});
}

TEST_CASE("no solution: nothing is told of the key, and no mate is set") {
    const Position at = position("1k6/1p6/7R/8/3K4/4Q3/8/8 w - - 0 1");
    const Problem problem = examine(at, "Rh7", 2);
    CHECK(problem.key_solves == Answer::no);
    CHECK_FALSE(problem.threats.has_value());
    CHECK_FALSE(problem.variations.has_value());
    CHECK_FALSE(problem.is_block());
    CHECK(set_mates(at, problem) == Sans{}); // the king shuts the diagonal: 1...Ka8 2.Rh8+ Ka7
    CHECK(problem.set_play->unprovided.size() == at.passed()->legal_moves().size());
    CHECK(problem.complete);
}

TEST_CASE("a mate sooner than promised leaves no variations") {
    const Position at = position("6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1");
    const Problem problem = examine(at, "Rd8#", 2);
    CHECK(problem.key_solves == Answer::yes);
    CHECK(problem.key_checks);
    REQUIRE(problem.variations.has_value());
    CHECK(problem.variations->empty());
    // Shorter than two moves there is no such play.
    const Problem none = examine(at, "Rd8#", 1);
    CHECK(none.key_solves == Answer::open);
    CHECK_FALSE(none.set_play.has_value());
    CHECK(none.nodes == 0);
}

TEST_CASE("two mates, of which one was threatened and not parried") {
    const Position at = position("8/6pp/8/8/K2Q4/R3p3/7p/4k3 w - - 0 1");
    const Problem problem = examine(at, "Ra2", 2);
    REQUIRE(problem.threats.has_value());
    CHECK(sans(*at.after(problem.key).passed(), problem.threats->moves) == Sans{"Qa1#"});
    const Sans beside = variations(at, problem, Ways::threat_and_other);
    CHECK(std::count(beside.begin(), beside.end(), "Kf1 Qa1# Qd1#") == 1);
}

TEST_CASE("promotion duals: queen or bishop, queen or rook") {
    // A. Kish, Christian Science Monitor, 1935: found by trying everything.
    const Position bishop = position("2n2K2/1Q3Pr1/3pk3/5bp1/4p1q1/2B1nNNB/8/8 w - - 0 1");
    CHECK(variations(bishop, examine(bishop, "Ke8", 2), Ways::promotion_dual) ==
          Sans{"Rg8+ fxg8=B# fxg8=Q#"});
    // A. F. Mackenzie, Baltimore Sunday News, 1888.
    const Position rook = position("KQ6/p2rP3/B7/8/1B1kP1R1/NR3p2/rn6/n5Nq w - - 0 1");
    const Problem problem = examine(rook, "Qh2", 2);
    CHECK(variations(rook, problem, Ways::promotion_dual) == Sans{"Rd8+ exd8=Q# exd8=R#"});
    CHECK(variations(rook, problem, Ways::dual) == Sans{});
}

TEST_CASE("two pawns that promote on one square are a dual like any other") {
    const Position at = position("2k5/KnP1P3/7p/8/8/3Q4/8/8 w - - 0 1");
    const Problem problem = examine(at, "Qd8+", 2);
    CHECK(variations(at, problem, Ways::dual) == Sans{"Nxd8 cxd8=Q# exd8=Q#"});
    PlayTally tally;
    check_by_trying(at, problem.key, 2, tally);
    CHECK(tally.ways[Ways::promotion_dual] == 0);
}

TEST_CASE("a mate by the pawn before it promoted is another mate than the queen's") {
    const Position at = position("k7/p2P1P2/b7/8/2N5/8/1p1K4/8 w - - 0 1");
    const Problem problem = examine(at, "d8=Q+", 2);
    const Sans mates = set_mates(at, problem);
    CHECK(std::count(mates.begin(), mates.end(), "Bc8 dxc8=Q# changed") == 1);
    PlayTally tally;
    check_by_trying(at, problem.key, 2, tally);
}

TEST_CASE("set play of a Grimshaw: one of the two interferences has its mate ready") {
    const Position at = position("br6/8/P3Q3/kpPp4/1N1P4/PP1NK3/8/8 w - - 0 1");
    const Problem problem = examine(at, "Ne5", 2);
    const Sans mates = set_mates(at, problem);
    CHECK(std::count(mates.begin(), mates.end(), "Bb7 Qb6#") == 1);
    const Sans unprovided = sans(*at.passed(), problem.set_play->unprovided);
    CHECK(std::count(unprovided.begin(), unprovided.end(), "Rb7") == 1);
    CHECK_FALSE(problem.set_play->complete_block());
    // Given the move, Black is asked the same.
    const Position given = position("br6/8/P3Q3/kpPp4/1N1P4/PP1NK3/8/8 b - - 0 1");
    CHECK(given.same_as(*at.passed()));
}

TEST_CASE("a mutate: a complete block, a waiting key, other mates") {
    // R. C. O. Matthews, Great Britain - Netherlands, 1956: the mates by trying everything.
    const Position at = position("8/2Kp4/3Pp3/p1k5/P7/p2R4/Bnp1p3/Q1RbB3 w - - 0 1");
    const Problem problem = examine(at, "Qb1", 2);
    CHECK(problem.set_play->complete_block());
    CHECK(problem.is_mutate());
    CHECK(set_mates(at, problem) ==
          Sans{"Nxd3 Qc3# changed", "Nxa4 Qe5# changed", "Nc4 Qd4# changed", "e5 Rd5#"});
    // J. Stewart, Good Companions, 1921: a complete block, but the key threatens; the queen that it moved
    // mates on the same square.
    const Position threatened = position("6N1/3pp3/3P2p1/4k1Nb/6p1/3Q2K1/8/8 w - - 0 1");
    const Problem other = examine(threatened, "Qc4", 2);
    CHECK(other.set_play->complete_block());
    CHECK_FALSE(other.is_block());
    CHECK_FALSE(other.is_mutate());
    CHECK(set_mates(threatened, other) == Sans{"exd6 Qe4#", "e6 Nf7# changed"});
}

TEST_CASE("in check there is no set play, and that is an answer") {
    const Position at = position("4r1k1/5ppp/8/8/8/8/5PPP/3RK3 w - - 0 1");
    const Problem problem = examine(at, "Kd2", 2);
    CHECK_FALSE(problem.set_play.has_value());
    CHECK(problem.flights_taken.empty());
    CHECK(problem.complete);
}

TEST_CASE("colours exchanged the play is the same") {
    for (const char* text : {"1k6/1p6/7R/8/5K2/4Q3/8/8 w - - 0 1", "8/6pp/8/8/K2Q4/R3p3/7p/4k3 w - - 0 1"}) {
        const Position other = mirrored(position(text));
        PlayTally tally;
        for (const Move key : mating_moves(other, 2)) {
            check_by_trying(other, key, 2, tally);
        }
        CHECK(tally.tries == 1);
    }
}

// ---- the budget

namespace {

/// What is told is what is true; what is not is said to be open.
void check_part(const Problem& part, const Problem& whole) {
    CHECK((part.key_solves == Answer::open || part.key_solves == whole.key_solves));
    if (part.threats) {
        CHECK(*part.threats == *whole.threats);
    }
    if (part.variations) {
        REQUIRE(part.variations->size() == whole.variations->size());
        for (std::size_t i = 0; i < part.variations->size(); ++i) {
            CHECK((*part.variations)[i].answer == (*whole.variations)[i].answer);
            CHECK((*part.variations)[i].ways == (*whole.variations)[i].ways);
        }
    }
    if (part.set_play) {
        CHECK(part.set_play->unprovided == whole.set_play->unprovided);
        CHECK(part.set_play->mates.size() == whole.set_play->mates.size());
    }
    const auto same = [](const solve::Try& a, const solve::Try& b) {
        return a.move == b.move && a.refutations == b.refutations;
    };
    for (const auto& [some, all] :
         {std::pair(&part.tries, &whole.tries), {&part.weak_tries, &whole.weak_tries}}) {
        REQUIRE(some->size() <= all->size());
        CHECK(std::equal(some->begin(), some->end(), all->begin(), same)); // the first of them
    }
    const bool all_there = part.key_solves != Answer::open && part.variations.has_value() &&
                           part.set_play.has_value() && part.tries_complete;
    CHECK(part.complete == all_there);
}

} // namespace

TEST_CASE("whatever the budget, nothing false is told, and what is missing is said to be") {
    // C. Mansfield, British Chess Magazine, 1922, and A. F. Mackenzie, British Chess Magazine, 1902 (in
    // three).
    for (const auto& [text, key, moves] :
         {std::tuple("6K1/6p1/7b/4Pk2/2Q2n1P/2B3R1/5nP1/5R2 w - - 0 1", "Rg6", 2),
          std::tuple("b5Kn/p5Bp/4P1p1/1P1k4/p1pNN2P/5BP1/8/7Q w - - 0 1", "Nf5", 3)}) {
        const Position at = position(text);
        const Problem whole = examine(at, key, moves);
        REQUIRE(whole.complete);
        bool complete = false;
        int open = 0;
        for (solve::Nodes nodes = 1; !complete; nodes += 1 + nodes / 4) {
            for (const bool puzzle : {true, false}) { // the puzzle's account, or the question's share
                solve::Budget budget = ample;
                (puzzle ? budget.puzzle : budget.mate) = nodes;
                const Problem part = Solver(budget).problem(at, {move(at, key), moves});
                INFO(nodes);
                check_part(part, whole);
                const Problem again = Solver(budget).problem(at, {move(at, key), moves});
                CHECK(again.nodes == part.nodes);
                CHECK(again.tries.size() == part.tries.size());
                CHECK((!puzzle || part.nodes <= nodes + 2));
                complete = puzzle ? part.complete : complete && part.complete;
                open += part.complete ? 0 : 1;
            }
            REQUIRE(nodes < 10'000'000);
        }
        CHECK(open > 10);
    }
}
