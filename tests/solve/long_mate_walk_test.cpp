// Walking a mate by proof numbers, as who writes a certificate does: it ends where the prover said it would.

#include "positions.hpp"
#include "shared_tables.hpp"
#include "solve/endgame_tables.hpp"
#include "solve/long_mate.hpp"

using board::Position;
using solve::Account;
using solve::LongMateProver;
using solve_test::position;

namespace {

const solve::Endgames without_tables(nullptr, 0);

struct Known {
    const char* fen; ///< the defender is to move
    int moves;       ///< of the other side to mate, the shortest
};

// Endings of our own; their lengths are the tables', which other tests hold to published ones.
constexpr Known known[] = {
    {"7k/8/5K2/8/8/8/8/1R6 b - - 0 1", 2},
    {"8/8/8/8/8/2k5/8/KQ5R b - - 0 1", 4},
#ifdef NDEBUG // unoptimised builds leave out what takes them long
    {"2B5/8/8/8/8/4N3/3K4/7k b - - 0 1", 9},
#endif
};

/// Plays the attacker's moves against replies drawn at random; how many it took.
int play_out(LongMateProver& prover, Position at, int moves, solve_test::Random& random) {
    int played = 0;
    while (!at.is_checkmate()) {
        const auto replies = at.legal_moves();
        REQUIRE_FALSE(replies.empty());
        at.make(replies[random.below(replies.size())]);
        const auto answer = prover.mating_move(at, moves - played);
        REQUIRE(answer.has_value());
        REQUIRE(at.is_legal(answer->move));
        CHECK(answer->left < moves - played);
        at.make(answer->move);
        ++played;
    }
    return played;
}

} // namespace

TEST_CASE("a proved mate is walked to its end within its length, whatever the replies") {
    const solve::EndgameTables& tables = shared_tables();
    for (const auto& [fen, moves] : known) {
        INFO(fen);
        const Position at = position(fen);
        REQUIRE(tables.probe(at) == solve::EndgameValue{solve::EndgameValue::Outcome::loss, 2 * moves});
        for (const std::uint64_t entries :
             {std::uint64_t{1} << 13U, std::uint64_t{1} << 18U}) { // lost, and kept
            INFO(entries << " entries");
            Account account(8'000'000);
            LongMateProver prover(entries, account, without_tables);
            Position asked = at;
            REQUIRE(prover.mated_within(asked, moves) == true);
            CHECK(asked.same_as(at));
            solve_test::Random random(5);
            for (int game = 0; game < 10; ++game) {
                CHECK(play_out(prover, at, moves, random) <= moves);
            }
        }
    }
}

TEST_CASE("a shorter mate is not proved, and what is no mate is; without nodes nothing is settled") {
    for (const auto& [fen, moves] : known) {
        INFO(fen);
        Position at = position(fen);
        Account account(2'000'000);
        LongMateProver prover(1U << 18U, account, without_tables);
        CHECK(prover.mated_within(at, moves + 10) == true);
        const auto sooner = prover.mated_within(at, moves - 1);
        CHECK(sooner != true);
        CHECK((sooner == false || prover.stopped()));
        CHECK((moves > 4 || sooner == false)); // the others' trees are too large
        Account nothing(1);
        LongMateProver poor(1U << 10U, nothing, without_tables);
        CHECK_FALSE(poor.mated_within(at, moves).has_value());
        CHECK(poor.stopped());
    }
    Account account(100'000);
    LongMateProver prover(1U << 14U, account, without_tables);
    Position mated = position("R5k1/5ppp/8/8/8/8/8/6K1 b - - 0 1");
    CHECK(prover.mated_within(mated, 0) == true);
    Position stalemated = position("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1");
    CHECK(prover.mated_within(stalemated, 5) == false);
}
