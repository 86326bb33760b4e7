// Mates by proof numbers: what is proved is a mate, no longer than it says; what is no mate is never proved.

#include "reference/solve_reading.hpp"
#include "solve/endgame_tables.hpp"
#include "solve/long_mate.hpp"
#include "solve/mate.hpp"

#include "positions.hpp"
#include "shared_tables.hpp"

using board::Color;
using board::Position;
using solve::Account;
using solve::LongMate;
using solve::LongMateProver;
using solve::Nodes;
using namespace solve_test;
using Outcome = solve::EndgameValue::Outcome;
using Scope = solve::MateProver::Scope;

namespace {

constexpr std::uint64_t entries = 1U << 16U;
const solve::Endgames no_tables(nullptr, 0);

struct Searched {
    std::optional<LongMate> mate;
    bool denied = false;
    Nodes used = 0;
};

Searched ask(const Position& at, Nodes nodes, bool attacks = true, std::uint64_t size = entries) {
    Account account(nodes);
    LongMateProver prover(size, account, no_tables);
    Searched answer;
    answer.mate = attacks ? prover.find(at) : prover.find_after(at);
    answer.denied = prover.denied();
    answer.used = account.used();
    CHECK((answer.mate || answer.denied || prover.stopped()));
    CHECK_FALSE((answer.mate && answer.denied));
    CHECK(answer.used <= nodes);
    return answer;
}

/// The complete prover's word, if it gets to one.
std::optional<int> least(Position at, int limit) {
    Account account(400'000);
    solve::MateProver prover(1U << 16U, account, no_tables);
    const auto length = prover.shortest(at, limit, Scope::all);
    return length || !prover.stopped() ? std::optional(length.value_or(0)) : std::nullopt;
}

/// Ends in mate after as many moves as it says; a line may be cut short only by the account.
void check_line(const Position& at, const LongMate& mate, bool attacks) {
    INFO(board::write_line(at, mate.line));
    REQUIRE(static_cast<int>(mate.line.size()) == 2 * mate.moves - (attacks ? 1 : 0));
    const auto end = play(at, mate.line);
    REQUIRE(end.has_value());
    CHECK(end->is_checkmate());
    CHECK(end->turn() == (attacks ? !at.turn() : at.turn()));
}

/// Every reply to the line's moves is answered within what is left, all of it asked anew.
void check_replies(const Position& at, const LongMate& mate, Nodes nodes) {
    Position attacked = at;
    for (std::size_t i = 0; i + 1 < mate.line.size(); i += 2) {
        attacked.make(mate.line[i]);
        for (const board::Move reply : attacked.legal_moves()) {
            const Position next = attacked.after(reply);
            INFO(fen(next));
            const auto again = ask(next, nodes).mate;
            REQUIRE(again.has_value());
            if (again->shortest) {
                CHECK(again->moves <= mate.moves - 1 - static_cast<int>(i / 2));
            }
        }
        attacked.make(mate.line[i + 1]);
    }
}

} // namespace

TEST_CASE("in thousands of random diagrams what is proved is a mate of no greater length") {
    constexpr std::string_view sets[] = {"KQRkp",  "KRRBkn",  "KRRNkpp", "KQNkr",    "KPPPkpp", "KRPPkbp",
                                         "KQBPkp", "KQPknpp", "KQNPkrp", "KRNNPkpp", "KQkqp",   "KQRkqr"};
    Random random(101);
    int short_mates = 0;
    int found = 0;
    int proved = 0;
    int asked = 0;
    for (int i = 0; i < 4000 / share; ++i) {
        const Color turn = i % 3 == 2 ? Color::black : Color::white;
        const auto at = diagram(random, sets[static_cast<std::size_t>(i) % std::size(sets)], turn);
        if (!at) {
            continue;
        }
        INFO(fen(*at));
        ++asked;
        const auto answer = ask(*at, 10'000);
        const auto shortest = least(*at, 3);
        REQUIRE(shortest.has_value());
        short_mates += *shortest > 0 ? 1 : 0;
        found += *shortest > 0 && answer.mate ? 1 : 0;
        CHECK((!answer.denied || *shortest == 0));
        if (answer.mate) {
            ++proved;
            CHECK(answer.mate->moves >= std::max(*shortest, *shortest == 0 ? 4 : 1));
            if (answer.mate->shortest && *shortest > 0) {
                CHECK(answer.mate->moves == *shortest);
            }
            if (answer.mate->moves == 4) {
                CHECK(least(*at, 4).value_or(4) == 4);
            }
        }
    }
    CHECK(asked >= 2500 / share);
    CHECK(short_mates >= 300 / share);
    CHECK(100 * found >= 94 * short_mates); // the rest are kings hunted in the open by quiet moves
    CHECK(10 * proved >= 12 * found);       // longer ones
}

TEST_CASE("mates as published: nearly all are found, as long as they are said to be, and after their key") {
    struct Published {
        std::string fen, lead, key;
        int length;
    };
    std::vector<Published> all;
    for (const auto& row : solve_reference::rows("solve-games.tsv")) {
        all.push_back({row[0], "", row[2], std::stoi(row[1])});
    }
    for (const auto& row : solve_reference::rows("solve-composed.tsv")) {
        all.push_back({row[2], "", row[4], std::stoi(row[3])});
    }
    for (const auto& row : solve_reference::rows("solve-online.tsv")) {
        all.push_back({row[0], row[1], row[3], std::stoi(row[2])});
    }
    int asked = 0;
    int found = 0;
    int exact = 0;
    for (std::size_t i = 0; i < all.size(); i += share) {
        INFO(all[i].fen);
        Position at = position(all[i].fen);
        if (!all[i].lead.empty()) {
            at.make(board::read_coordinate(at, all[i].lead).value());
        }
        const auto mate = ask(at, 200'000).mate;
        ++asked;
        found += mate ? 1 : 0;
        if (mate) {
            CHECK(mate->moves >= all[i].length);
            CHECK((!mate->shortest || mate->moves == all[i].length));
            exact += mate->shortest ? 1 : 0;
            check_line(at, *mate, true);
        }
        if (!all[i].key.empty()) {
            const bool coordinate = !all[i].lead.empty();
            const auto key =
                coordinate ? board::read_coordinate(at, all[i].key).value() : move(at, all[i].key);
            const auto after = ask(at.after(key), 200'000, false).mate;
            CHECK((!after || after->moves >= all[i].length - 1));
            if (after) {
                check_line(at.after(key), *after, false);
            }
        }
    }
    CHECK(asked >= 380 / share);
    CHECK(100 * found >= 99 * asked);
    CHECK(100 * exact >= 98 * found);
}

// Edward Lasker and Thomas, London 1912; the moves from memory.
TEST_CASE("a king driven across the board") {
    const Position start = position("rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1");
    const Position at = solve_reference::after(
        start, "1. d4 e6 2. Nf3 f5 3. Nc3 Nf6 4. Bg5 Be7 5. Bxf6 Bxf6 6. e4 fxe4 7. Nxe4 b6 8. Ne5 O-O "
               "9. Bd3 Bb7 10. Qh5 Qe7");
    const auto mate = ask(at, 300'000).mate;
    REQUIRE(mate.has_value());
    CHECK(mate->moves == 7); // he mated with the eighth: a pawn's check on the way was quicker
    check_line(at, *mate, true);
    CHECK(board::write_san(at, mate->line.front()) == "Qxh7+");
}

TEST_CASE("few men: no draw is proved, no mate is called shorter than the table knows it") {
    const solve::EndgameTables& tables = shared_tables();
    constexpr std::string_view sets[] = {"KQk", "KPk", "KQkr", "KQkq", "KRkr", "KRkb", "KQQk", "KPk"};
    Random random(211);
    int draws = 0;
    int wins = 0;
    int long_wins = 0;
    int proved = 0;
    int denied = 0;
    for (int i = 0; i < 1200 / share; ++i) {
        const Color turn = i % 4 == 3 ? Color::black : Color::white;
        const auto at = diagram(random, sets[static_cast<std::size_t>(i) % std::size(sets)], turn);
        if (!at) {
            continue;
        }
        INFO(fen(*at));
        const auto value = tables.probe(*at).value();
        const auto answer = ask(*at, 10'000, true, 1U << 12U);
        const bool win = value.outcome == Outcome::win;
        (win ? wins : draws) += 1;
        CHECK((win || !answer.mate));
        CHECK((!win || !answer.denied));
        denied += answer.denied && answer.used > 100 ? 1 : 0; // not at first sight
        if (answer.mate) {
            ++proved;
            long_wins += answer.mate->moves >= 8 ? 1 : 0;
            CHECK(2 * answer.mate->moves - 1 >= value.plies_to_mate);
            CHECK((!answer.mate->shortest || 2 * answer.mate->moves - 1 == value.plies_to_mate));
        }
        // And the other side, to move, as the defender.
        const auto lost = ask(*at, 5'000, false, 1U << 12U);
        CHECK((!lost.mate || value.outcome == Outcome::loss));
        CHECK((!lost.denied || value.outcome != Outcome::loss));
        CHECK((!lost.mate || 2 * lost.mate->moves >= value.plies_to_mate));
    }
    CHECK(draws >= 100 / share);
    CHECK(wins >= 100 / share);
    CHECK(proved >= 120 / share);
    CHECK(long_wins >= 20 / share);
    CHECK((share > 1 || denied > 0));
}

TEST_CASE("with tables long mates of few men are exact, lines and all") {
    const solve::EndgameTables& tables = shared_tables();
    solve::Endgames endgames(&tables, 5);
    Random random(223);
    Position at = position("8/8/8/3k4/8/8/8/KQ5r w - - 0 1");
    endgames.serve(at);
    for (int i = 0; i < 500; ++i) { // the longest of many
        const auto other = diagram(random, "KQkr", Color::white);
        const auto value = other ? endgames.value(*other) : std::nullopt;
        if (value && value->outcome == Outcome::win &&
            value->plies_to_mate > endgames.value(at)->plies_to_mate) {
            at = *other;
        }
    }
    Account account(100'000);
    LongMateProver prover(entries, account, endgames);
    const auto value = endgames.value(at).value();
    const auto mate = prover.find(at);
    REQUIRE(mate.has_value());
    CHECK(2 * mate->moves - 1 == value.plies_to_mate);
    CHECK(mate->moves >= 25);
    CHECK(mate->shortest);
    check_line(at, *mate, true);

    // A man more: the tables begin after an exchange.
    int found = 0;
    for (int i = 0; i < 40; ++i) {
        const auto five = diagram(random, "KRRkr", Color::white);
        if (!five) {
            continue;
        }
        INFO(fen(*five));
        endgames.serve(*five);
        Account small(20'000);
        LongMateProver other(entries, small, endgames);
        if (const auto won = other.find(*five)) {
            ++found;
            check_line(*five, *won, true);
        }
    }
    CHECK(found >= 5);
}

TEST_CASE("traps: perpetual check, stalemate, fortresses") {
    struct Trap {
        const char* what;
        const char* fen;
        bool complete; ///< small enough to be denied for good
    };
    const auto trap = GENERATE(values<Trap>({
        {"perpetual check and no more", "6k1/5p1p/8/8/8/1q6/1r4PP/3Q3K w - - 0 1", false},
        {"the king steps to and fro between two checks", "7k/5Q2/8/8/8/8/1q5r/6K1 w - - 0 1", false},
        {"the last pawn stands on the rook's file", "7k/8/6K1/7P/8/8/8/8 w - - 0 1", false},
        {"the pawn on the seventh: stalemate or lost", "k7/P7/1K6/8/8/8/8/8 w - - 0 1", true},
        {"bishop of the wrong colour", "k7/8/1K6/P7/8/8/8/2B5 w - - 0 1", false},
        {"two knights", "7k/8/5NK1/8/8/8/8/4N3 w - - 0 1", false},
        {"nothing to mate with", "8/8/4k3/8/8/3K4/8/8 w - - 0 1", true},
        {"a bare king against much", "8/8/4k3/q7/8/3K4/8/8 w - - 0 1", true},
        {"all moves stalemate", "7k/5K2/8/6PP/8/8/8/8 b - - 0 1", true},
        {"walls of pawns, no way through", "8/8/1k6/1p1p1p1p/1P1P1P1P/8/4K3/8 w - - 0 1", false},
        {"a desperate rook", "8/8/8/8/8/6r1/5K1p/7k w - - 0 1", true},
    }));
    INFO(trap.what);
    const auto answer = ask(position(trap.fen), 300'000);
    CHECK_FALSE(answer.mate.has_value());
    CHECK((!trap.complete || answer.denied));
}

// Small enough for the whole tree to be seen; White wins them all, by the table.
TEST_CASE("a line that comes back denies nothing but on its own path") {
    const auto won = GENERATE(values<std::string_view>({
        "5K2/8/8/8/8/8/4kP2/8 w - - 0 1",
        "8/8/8/8/P7/1k6/8/2K5 w - - 0 1",
        "8/7K/8/8/8/3P4/3k4/8 w - - 0 1",
        "8/6K1/8/8/2P5/3k4/8/8 w - - 0 1",
    }));
    const solve::EndgameTables& tables = shared_tables();
    INFO(won);
    REQUIRE(tables.probe(position(won)).value().outcome == Outcome::win);
    for (const Nodes nodes : {20'000U, 60'000U, 200'000U}) {
        CHECK_FALSE(ask(position(won), nodes).denied);
    }
}

TEST_CASE("the end of the game") {
    const auto mated = ask(position("R5k1/5ppp/8/8/8/8/8/6K1 b - - 0 1"), 100, false);
    REQUIRE(mated.mate.has_value());
    CHECK(mated.mate->moves == 0);
    CHECK(mated.mate->line.empty());
    CHECK(ask(position("R5k1/5ppp/8/8/8/8/8/6K1 b - - 0 1"), 100).denied);
    CHECK(ask(position("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1"), 100, false).denied);
    CHECK(ask(position("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1"), 100).denied);
}

TEST_CASE("whatever the budget and the memory, what is proved is right, and always the same") {
    const auto puzzles = solve_reference::rows("solve-online.tsv");
    int found = 0;
    for (std::size_t i = 0; i < puzzles.size(); i += 3 * share) {
        Position at = position(puzzles[i][0]);
        at.make(board::read_coordinate(at, puzzles[i][1]).value());
        INFO(fen(at));
        for (const Nodes nodes : {0U, 1U, 2U, 10U, 100U, 1000U, 30'000U}) {
            const auto first = ask(at, nodes, true, 1);
            const auto second = ask(at, nodes, true, 1);
            CHECK(first.used == second.used);
            REQUIRE(first.mate.has_value() == second.mate.has_value());
            CHECK((nodes > 2 || !first.denied));
            if (first.mate) {
                ++found;
                CHECK(first.mate->line == second.mate->line);
                CHECK(first.mate->moves == second.mate->moves);
                CHECK(first.mate->moves >= std::stoi(puzzles[i][2]));
            }
        }
    }
    CHECK(found >= 60 / share);
}

TEST_CASE("one prover asked many things still proves right") {
    Account account(1'000'000'000);
    LongMateProver prover(1, account, no_tables);
    Random random(307);
    int found = 0;
    for (int i = 0; i < 600 / share; ++i) {
        const auto at =
            diagram(random, i % 2 == 0 ? "KQPkpp" : "KRRNkbp", i % 3 == 0 ? Color::black : Color::white);
        if (!at) {
            continue;
        }
        INFO(fen(*at));
        const Account::Share part(account, 3'000);
        const auto mate = prover.find(*at);
        const auto shortest = least(*at, 3).value();
        CHECK((!mate || mate->moves >= std::max(1, shortest)));
        CHECK((!mate || shortest > 0 || mate->moves > 3));
        CHECK((!prover.denied() || shortest == 0));
        found += mate ? 1 : 0;
    }
    CHECK(found >= 60 / share);
}

TEST_CASE("in long mates every reply has its answer") {
    const auto made = GENERATE(values<std::string_view>({
        "8/8/8/8/3k4/8/8/KQR5 w - - 0 1",
        "8/8/8/5k2/8/8/8/K2RR3 w - - 0 1",
        "8/8/8/3k4/8/8/8/KQQ5 w - - 0 1",
    }));
    const Position at = position(made);
    INFO(made);
    const auto mate = ask(at, 300'000).mate;
    REQUIRE(mate.has_value());
    check_line(at, *mate, true);
    check_replies(at, *mate, 300'000);
}
