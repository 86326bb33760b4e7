// What a search remembers, and the words for what is known.

#include "positions.hpp"
#include "solve/account.hpp"
#include "solve/memory.hpp"
#include "solve/score.hpp"

using namespace solve;

TEST_CASE("a score remembered at one ply is the same score at another, mates the nearer the better") {
    for (const int ply : {0, 1, 7, 40}) {
        for (const int score : {0, 35, -250, 12'000, mate_score - 50, 50 - mate_score}) {
            Memo memo;
            memo.score = Memo::score_from(score, ply);
            CHECK(memo.score_at(ply) == score);
            const int later = memo.score_at(ply + 2);
            CHECK(later == (!is_mate(score) ? score : score > 0 ? score - 2 : score + 2));
        }
    }
}

TEST_CASE("scores of mates are told as moves") {
    for (int moves = 1; moves < 20; ++moves) {
        CHECK(is_mate(mating_score(moves)));
        CHECK(value_of(mating_score(moves)).mate_in == moves);
        CHECK(value_of(2 * moves - mate_score).mate_in == -moves);
        CHECK(mating_score(moves) > mating_score(moves + 1));
    }
    CHECK_FALSE(value_of(900).mate_in.has_value());
    CHECK(one_ply_up(250) == 250);
    CHECK(one_ply_up(mate_score - 4) == mate_score - 5);
    CHECK(one_ply_up(4 - mate_score) == 5 - mate_score);
}

TEST_CASE("a bound answers only on its side") {
    Memo memo;
    memo.score = 100;
    CHECK_FALSE(memo.answers(50, 51, 0));
    memo.bound = Bound::lower;
    CHECK(memo.answers(50, 51, 0));
    CHECK(memo.answers(99, 100, 0));
    CHECK_FALSE(memo.answers(100, 101, 0));
    memo.bound = Bound::upper;
    CHECK(memo.answers(100, 101, 0));
    CHECK_FALSE(memo.answers(99, 100, 0));
    memo.bound = Bound::exact;
    CHECK(memo.answers(99, 100, 0));
    CHECK(memo.answers(100, 101, 0));
}

TEST_CASE("the memory gives back what it was given, and never another position's") {
    Memory memory(1);
    CHECK(memory.find(42) == nullptr);
    solve_test::Random random(67);
    std::vector<Memo> given;
    for (int i = 0; i < 20'000; ++i) {
        Memo memo;
        memo.hash = random.next();
        memo.score = static_cast<std::int16_t>(random.below(2000));
        memo.depth = static_cast<std::int16_t>(random.below(12));
        memo.bound = Bound::exact;
        memory.store(memo);
        given.push_back(memo);
        const Memo* found = memory.find(memo.hash);
        CHECK((found == nullptr || (found->hash == memo.hash && found->score == memo.score)));
    }
    int kept = 0;
    for (const Memo& memo : given) {
        const Memo* found = memory.find(memo.hash);
        if (found != nullptr) {
            ++kept;
            CHECK(found->score == memo.score);
            CHECK(found->depth == memo.depth);
        }
    }
    CHECK(kept > 500);
    CHECK(kept <= 1 << 20);
}

TEST_CASE("the newer memo of the same position is kept when it knows as much") {
    Memory memory(5000);
    int score = 0;
    for (const int depth : {3, 3, 6, 9}) {
        Memo memo;
        memo.hash = 0x1234567890abcdef;
        memo.depth = static_cast<std::int16_t>(depth);
        memo.score = static_cast<std::int16_t>(++score);
        memo.bound = Bound::lower;
        memory.store(memo);
        const Memo* found = memory.find(memo.hash);
        REQUIRE(found != nullptr);
        CHECK(found->score == score);
    }
}

TEST_CASE("a share ends the question, not the puzzle") {
    Account account(100);
    {
        const Account::Share share(account, 10);
        int paid = 0;
        while (account.spend()) {
            ++paid;
        }
        CHECK(paid <= 10);
        CHECK(account.exhausted());
        CHECK(share.spent() == 10);
        {
            const Account::Share wider(account, 1000); // cannot widen what is narrowed
            CHECK(account.exhausted());
        }
    }
    CHECK_FALSE(account.exhausted());
    CHECK(account.used() == 10);
    CHECK(account.left() == 90);
    while (account.spend()) {
    }
    CHECK(account.left() == 0);
}

TEST_CASE("words for certainty and effort") {
    CHECK(weaker(Certainty::proved, Certainty::searched) == Certainty::searched);
    CHECK(weaker(Certainty::open, Certainty::proved) == Certainty::open);
    CHECK(weaker(Certainty::proved, Certainty::proved) == Certainty::proved);
    CHECK(name(Certainty::proved) == "proved");
    CHECK(name(Certainty::searched) == "searched");
    CHECK(name(Certainty::open) == "open");
    for (const Effort effort : {Effort::draft, Effort::review, Effort::press}) {
        CHECK(read_effort(name(effort)) == effort);
    }
    CHECK_FALSE(read_effort("hasty").has_value());
    CHECK_FALSE(read_effort("").has_value());
}

TEST_CASE("more effort is never less of anything") {
    const Budget draft = budget_of(Effort::draft);
    const Budget review = budget_of(Effort::review);
    const Budget press = budget_of(Effort::press);
    for (const auto& [less, more] : {std::pair(draft, review), std::pair(review, press)}) {
        CHECK(less.mate < more.mate);
        CHECK(less.value < more.value);
        CHECK(less.question < more.question);
        CHECK(less.puzzle < more.puzzle);
        CHECK(less.mate_moves <= more.mate_moves);
        CHECK(less.depth <= more.depth);
    }
    CHECK(draft.mate_moves >= 3); // an overlooked short mate is the worst of errors
}
