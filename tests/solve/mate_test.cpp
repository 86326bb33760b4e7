// Mates against a solver that tries everything.

#include "brute.hpp"
#include "positions.hpp"
#include "solve/mate.hpp"

using board::Color;
using board::Position;
using namespace solve_test;
using solve::Aim;
using solve::Answer;
using solve::Certainty;
using solve::Solver;

namespace {

/// Holding out as long as possible against the quickest mate, from first to last move.
void check_line(const Position& start, const solve::Line& line, int length) {
    INFO(fen(start) << ": " << board::write_line(start, line));
    REQUIRE(line.size() == static_cast<std::size_t>(2 * length - 1));
    const auto end = play(start, line);
    REQUIRE(end.has_value());
    CHECK(end->is_checkmate());
    Position at = start;
    for (std::size_t i = 0; i + 1 < line.size(); i += 2) {
        at.make(line[i]);
        at.make(line[i + 1]);
        CHECK(shortest_mate(at, length) == length - 1 - static_cast<int>(i / 2));
    }
}

/// Everything the prover says about mates of one to `limit` moves.
std::optional<int> check_mates(const Position& start, int limit) {
    INFO(fen(start));
    const auto length = shortest_mate(start, limit);
    Solver solver(ample);
    const solve::Mates found = solver.mates(start, limit);
    CHECK(found.complete);
    CHECK(found.length == length);
    CHECK(found.nodes <= solver.nodes_used());
    if (!length) {
        CHECK(found.keys.empty());
        CHECK(found.line.empty());
    } else {
        CHECK(sans(start, found.keys) == sans(start, mating_moves(start, *length)));
        REQUIRE_FALSE(found.line.empty());
        CHECK(std::count(found.keys.begin(), found.keys.end(), found.line.front()) == 1);
        check_line(start, found.line, *length);
    }
    for (int moves = 1; moves <= limit; ++moves) {
        Solver fresh(ample);
        const auto judged = fresh.reaches(start, start.turn(), Aim::mate(moves));
        const bool reached = length && *length <= moves;
        CHECK(judged.answer == (reached ? Answer::yes : Answer::no));
        CHECK(judged.certainty == Certainty::proved);
        CHECK(judged.depth == 0);
        if (reached) {
            CHECK(judged.value.mate_in == length);
            check_line(start, judged.line, *length);
        }
    }
    return length;
}

/// The same questions with the defender to move.
void check_replies(const Position& start, int limit) {
    Solver solver(ample);
    for (const board::Move move : start.legal_moves()) {
        Position after = start.after(move);
        INFO(fen(after));
        const bool lost = is_lost(after, limit);
        const auto judged = solver.reaches(after, start.turn(), Aim::mate(limit));
        CHECK(judged.answer == (lost ? Answer::yes : Answer::no));
        CHECK(judged.certainty == Certainty::proved);
        CHECK(play(after, judged.line).has_value());
        if (!lost && after.has_legal_move() && !judged.line.empty()) {
            Position escaped = after.after(judged.line.front());
            CHECK_FALSE(mates(escaped, limit));
        }
    }
}

struct Tally {
    int positions = 0;
    int by_length[4] = {0, 0, 0, 0}; ///< 0: no mate
    void count(std::optional<int> length) {
        ++positions;
        ++by_length[static_cast<std::size_t>(length.value_or(0))];
    }
};

} // namespace

TEST_CASE("along random games the prover finds every mate in one and two, and no other") {
    Tally tally;
    int seen = 0;
    walk(11, 40, 90, [&](const Position& at) {
        if (++seen % (7 * share) == 0) {
            tally.count(check_mates(at, 2));
        }
    });
    CHECK(tally.positions >= 300 / share);
    CHECK(tally.by_length[0] > 0);
    CHECK(tally.by_length[1] + tally.by_length[2] >= 20 / share);
}

TEST_CASE("in random diagrams the prover finds every mate in one, two and three, and no other") {
    constexpr std::string_view sets[] = {"KQRkp",   "KRRBkn", "KRRNkpp", "KQNkr",   "KPPPkpp",
                                         "KRPPkbp", "KQBPkp", "KQPknpp", "KQNPkrp", "KRNNPkpp"};
    Random random(23);
    Tally tally;
    for (int i = 0; i < 900 / share; ++i) {
        const Color turn = i % 4 == 3 ? Color::black : Color::white;
        if (const auto at = diagram(random, sets[static_cast<std::size_t>(i) % std::size(sets)], turn)) {
            tally.count(check_mates(*at, 3));
        }
    }
    CHECK(tally.by_length[0] > 0);
    CHECK(tally.by_length[1] >= 30 / share);
    CHECK(tally.by_length[2] >= 20 / share);
    CHECK(tally.by_length[3] >= 20 / share);
}

TEST_CASE("with the defender to move the prover agrees, and its refutation refutes") {
    constexpr std::string_view sets[] = {"KQRkp", "KRRkr", "KQNkpp", "KQPkq"};
    Random random(29);
    for (int i = 0; i < 100 / share; ++i) {
        if (const auto at =
                diagram(random, sets[static_cast<std::size_t>(i) % std::size(sets)], Color::white)) {
            check_replies(*at, i % 3);
        }
    }
}

TEST_CASE("a prover of the least memory, asked a thousand things, still proves right") {
    solve::Account account(1'000'000'000);
    const solve::Endgames no_tables(nullptr, 0);
    solve::MateProver prover(1, account, no_tables);
    Random random(31);
    int found = 0;
    for (int i = 0; i < 400 / share; ++i) {
        auto at =
            diagram(random, i % 2 == 0 ? "KQPkpp" : "KRRNkbp", i % 3 == 0 ? Color::black : Color::white);
        if (!at) {
            continue;
        }
        INFO(fen(*at));
        const auto length = shortest_mate(*at, 3);
        found += length ? 1 : 0;
        CHECK(prover.shortest(*at, 3, solve::MateProver::Scope::all) == length);
        // Mates by checks alone are mates; what they deny is not denied.
        const auto by_checks = prover.shortest(*at, 3, solve::MateProver::Scope::checks);
        CHECK((!by_checks || (length && *length <= *by_checks)));
        CHECK(prover.shortest(*at, 3, solve::MateProver::Scope::all) == length);
        Position untouched = *at;
        CHECK(prover.survives_not(*at, 2, solve::MateProver::Scope::all) == is_lost(untouched, 2));
        CHECK(at->same_as(untouched));
        CHECK_FALSE(prover.stopped());
    }
    CHECK(found >= 30 / share);
}

namespace {

struct Made {
    const char* what;
    const char* fen;
    int limit;
    int length; ///< 0: none
    std::vector<std::string> keys;
};

} // namespace

TEST_CASE("mates in which a rule of the game decides") {
    const auto made = GENERATE(values<Made>({
        {"a queen would stalemate, a rook mates", "8/5P1k/5K2/8/8/8/8/8 w - - 0 1", 2, 2, {"f8=R"}},
        {"only a knight mates", "5brn/4Ppkp/5ppp/8/8/8/8/7K w - - 0 1", 1, 1, {"e8=N#"}},
        {"taking en passant opens the rank", "8/8/8/R4Ppk/8/7K/2B5/2B5 w - g6 0 1", 1, 1, {"fxg6#"}},
        {"the same without the right to take", "8/8/8/R4Ppk/8/7K/2B5/2B5 w - - 0 1", 1, 0, {}},
        {"the double step mates", "8/8/6pp/6pk/7n/7K/6P1/8 w - - 0 1", 1, 1, {"g4#"}},
        {"the double step can be taken in passing", "8/8/6pp/6pk/7p/7K/6P1/8 w - - 0 1", 1, 0, {}},
        {"double check", "2rkb3/4p3/8/8/8/8/3B4/3R3K w - - 0 1", 1, 1, {"Ba5#"}},
        {"castling mates", "8/8/8/8/7R/3k4/1P3P2/R3K1N1 w Q - 0 1", 1, 1, {"O-O-O#"}},
        {"the right to castle is gone", "8/8/8/8/7R/3k4/1P3P2/R3K1N1 w - - 0 1", 1, 0, {}},
        {"back rank", "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", 2, 1, {"Rd8#"}},
        {"smothered", "5r1k/6pp/7N/8/8/1Q6/6PP/6K1 w - - 0 1", 2, 2, {"Qg8+"}},
        {"two promotions mate alike", "7k/P7/6K1/8/8/8/8/8 w - - 0 1", 1, 1, {"a8=Q#", "a8=R#"}},
        {"waiting key", "1k6/1p6/7R/8/5K2/4Q3/8/8 w - - 0 1", 3, 2, {"Rh7"}},
        {"cooked", "1k6/1p6/4K2R/8/8/4Q3/8/8 w - - 0 1", 2, 2, {"Qb6", "Rh8+"}},
        {"no solution in two", "1k6/1p6/7R/8/3K4/4Q3/8/8 w - - 0 1", 2, 0, {}},
        {"line of the rook shut by its own bishop's shield",
         "br6/4N3/PP5Q/kpP5/1N6/PPK5/8/8 w - - 0 1",
         2,
         2,
         {"b7"}},
        {"stalemated", "7k/5Q2/6K1/8/8/8/8/8 b - - 0 1", 3, 0, {}},
        {"mated already", "R5k1/5ppp/8/8/8/8/8/6K1 b - - 0 1", 3, 0, {}},
    }));
    INFO(made.what);
    const Position start = position(made.fen);
    const auto length = check_mates(start, made.limit);
    CHECK(length.value_or(0) == made.length);
    if (length) {
        CHECK(sans(start, mating_moves(start, *length)) == made.keys);
    }
    // Colours exchanged it is the same problem.
    CHECK(check_mates(mirrored(start), made.limit) == length);
}

TEST_CASE("the end of the game is proved for both sides") {
    Solver solver(ample);
    const Position mated = position("R5k1/5ppp/8/8/8/8/8/6K1 b - - 0 1");
    CHECK(solver.reaches(mated, Color::white, Aim::mate(0)).answer == Answer::yes);
    CHECK(solver.reaches(mated, Color::black, Aim::mate(3)).answer == Answer::no);
    const Position stalemated = position("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1");
    const auto judged = solver.reaches(stalemated, Color::white, Aim::mate(3));
    CHECK(judged.answer == Answer::no);
    CHECK(judged.certainty == Certainty::proved);
}

TEST_CASE("set play: with the defender to move a mate is ready after some replies only") {
    const Position diagram = position("br6/8/P3Q3/kpPp4/1N1P4/PP1NK3/8/8 b - - 0 1");
    Solver solver(ample);
    CHECK(solver.reaches(diagram, Color::white, Aim::mate(1)).answer == Answer::no);
    const auto ready = solver.reaches(diagram.after(move(diagram, "Bb7")), Color::white, Aim::mate(1));
    CHECK(ready.answer == Answer::yes);
    CHECK(sans(diagram.after(move(diagram, "Bb7")), ready.line) == std::vector<std::string>{"Qb6#"});
    CHECK(solver.reaches(diagram.after(move(diagram, "Rb7")), Color::white, Aim::mate(1)).answer ==
          Answer::no);
}

TEST_CASE("what was asked before does not change a mate") {
    constexpr std::string_view sets[] = {"KQkp", "KRRkn", "KRPkbp", "KQPknpp"};
    Random random(37);
    for (int i = 0; i < 60 / share; ++i) {
        const auto at = diagram(random, sets[static_cast<std::size_t>(i) % std::size(sets)], Color::white);
        if (!at) {
            continue;
        }
        INFO(fen(*at));
        Solver fresh(ample);
        const solve::Mates first = fresh.mates(*at, 3);
        Solver busy(ample);
        static_cast<void>(busy.value(*at, Color::white));
        static_cast<void>(busy.reaches(*at, Color::white, Aim::mate(2)));
        for (const board::Move m : at->legal_moves()) {
            static_cast<void>(busy.reaches(at->after(m), Color::white, Aim::mate(2)));
            static_cast<void>(busy.reaches(at->after(m), Color::black, Aim::mate(2)));
        }
        const solve::Mates later = busy.mates(*at, 3);
        CHECK(later.length == first.length);
        CHECK(later.keys == first.keys);
        CHECK(later.complete);
        // The line may turn to another reply that holds out as long.
        CHECK(later.line.size() == first.line.size());
    }
}
