// Texts that nobody means well by: whatever the bytes, a reader returns, and what it accepts is sound.

#include "positions.hpp"

using namespace board;

namespace {

using Random = std::mt19937_64;

std::string noise(Random& random, std::size_t longest) {
    static constexpr std::string_view likely =
        "pnbrqkPNBRQK12345678/ w-KQkqabcdefgh x+#=!?O0.()\t\n\xe2\x99\x94\x95";
    std::string text(random() % longest, ' ');
    for (char& c : text) {
        c = random() % 8 == 0 ? static_cast<char>(random()) : likely[random() % likely.size()];
    }
    return text;
}

void mutate(Random& random, std::string& text) {
    for (std::uint64_t edits = 1 + random() % 4; edits > 0; --edits) {
        const std::size_t at = random() % (text.size() + 1);
        switch (random() % 4) {
        case 0:
            text.insert(at, noise(random, 4));
            break;
        case 1:
            text.erase(at, 1 + random() % 3);
            break;
        case 2:
            text.insert(at, text.substr(random() % (text.size() + 1), 6));
            break;
        default:
            if (at < text.size()) {
                text[at] = noise(random, 3).append("8").front();
            }
        }
    }
}

void read_and_use(const std::string& text) {
    const FenReading reading = read_fen(text);
    REQUIRE(reading.faults.size() <= 64);
    for (const FenFault& fault : reading.faults) {
        REQUIRE(fault.begin <= fault.end);
        REQUIRE(fault.end <= text.size());
    }
    const FenReading again = read_fen(write_fen(reading.setup));
    REQUIRE(again.setup == reading.setup);
    REQUIRE(again.faults.empty());
    const Setup mended = without_field_faults(reading.setup);
    REQUIRE_FALSE(faults_of(mended).has(SetupFault::castling_rights));
    REQUIRE_FALSE(faults_of(mended).has(SetupFault::en_passant));
    const auto made = Position::from(mended);
    REQUIRE(made.ok() == faults_of(mended).empty());
    if (!made) {
        return;
    }
    REQUIRE(made->legal_moves().size() == made->count_legal_moves());
    for (const Move move : made->legal_moves()) {
        REQUIRE(made->gives_check(move) == made->after(move).in_check());
        REQUIRE(resolve(*made, *read_san(write_san(*made, move))).value() == move);
    }
}

} // namespace

TEST_CASE("random bytes never break the readers") {
    Random random(1);
    const Position current = board_test::position(board_test::starts()[1]);
    for (int i = 0; i < 20000; ++i) {
        read_and_use(noise(random, 120));
        const std::string text = noise(random, 14);
        if (const auto san = read_san(text)) {
            if (const auto move = resolve(current, *san)) {
                REQUIRE(current.is_legal(*move));
            }
        }
        if (const auto move = read_coordinate(current, text)) {
            REQUIRE(current.is_legal(*move));
        }
    }
}

TEST_CASE("damaged FEN never breaks the reader, and what it still accepts can be played") {
    Random random(2);
    int played = 0;
    for (int i = 0; i < 4000; ++i) {
        std::string text = board_test::starts()[random() % board_test::starts().size()];
        mutate(random, text);
        read_and_use(text);
        played += read_fen(text).usable;
    }
    CHECK(played > 300);
}

TEST_CASE("damaged SAN never breaks the reader, and what it still accepts is legal") {
    Random random(3);
    int legal = 0;
    for (const std::string& fen : board_test::starts()) {
        const Position current = board_test::position(fen);
        const MoveList moves = current.legal_moves();
        for (int i = 0; i < 4000; ++i) {
            std::string text = write_san(current, moves[random() % moves.size()]);
            mutate(random, text);
            const auto san = read_san(text);
            if (const auto move = san ? resolve(current, *san) : failure(SanFailure{SanFault::illegal, {}});
                move) {
                REQUIRE(current.is_legal(*move));
                ++legal;
            }
        }
    }
    CHECK(legal > 1000);
}

TEST_CASE("diagrams strewn with men at random are refused or played without harm") {
    Random random(4);
    for (int i = 0; i < 3000; ++i) {
        Setup setup;
        setup.put(square_at(static_cast<int>(random() % 64)), {Color::white, Role::king});
        setup.put(square_at(static_cast<int>(random() % 64)), {Color::black, Role::king});
        for (std::uint64_t men = random() % 62; men > 0; --men) {
            const Square square = square_at(static_cast<int>(random() % 64));
            const auto role = all_roles[random() % 5];
            const bool end = rank_of(square) % 7 == 0;
            if (!setup.occupied().contains(square) && !(end && role == Role::pawn)) {
                setup.put(square, {random() % 2 == 0 ? Color::white : Color::black, role});
            }
        }
        setup.turn = random() % 2 == 0 ? Color::white : Color::black;
        setup.castling = CastlingRights::from_bits(static_cast<std::uint8_t>(random()));
        setup.en_passant = square_at(static_cast<int>(random() % 64));
        read_and_use(write_fen(without_field_faults(setup)));
    }
}
