// Nothing is proved against a diagram that real play has reached; bench_setup asks the same of many more.
#include "from_text.hpp"
#include "random_play.hpp"
#include "setup/legality.hpp"

#include <algorithm>
#include <string>

using board::Setup;

namespace {

#ifdef NDEBUG
constexpr std::uint64_t plies = 8000;
#else
constexpr std::uint64_t plies = 1000;
#endif

void check_nothing_proved(const Setup& diagram) {
    for (const setup::Contradiction& c : setup::contradictions(diagram)) {
        if (c.grade != setup::Grade::suspicion) {
            INFO(board::write_fen(diagram) << ' ' << c.code << ' ' << c.why);
            CHECK(c.grade == setup::Grade::suspicion);
        }
    }
}

/// What a printed diagram tells: the men and whose turn it is.
Setup as_printed(const Setup& diagram) {
    Setup bare;
    bare.by_color = diagram.by_color;
    bare.by_role = diagram.by_role;
    bare.turn = diagram.turn;
    return bare;
}

/// The same game with White and Black, and top and bottom, changed over.
Setup changed_over(const Setup& diagram) {
    Setup other = diagram;
    std::swap(other.by_color[0], other.by_color[1]);
    const auto turned = [](board::Bitboard squares) {
        return board::Bitboard(__builtin_bswap64(squares.bits()));
    };
    for (board::Bitboard& squares : other.by_color) {
        squares = turned(squares);
    }
    for (board::Bitboard& squares : other.by_role) {
        squares = turned(squares);
    }
    other.turn = !diagram.turn;
    const unsigned rights = diagram.castling.bits();
    other.castling =
        board::CastlingRights::from_bits(static_cast<std::uint8_t>((rights & 3U) << 2U | rights >> 2U));
    if (diagram.en_passant) {
        other.en_passant = board::square_at(index(*diagram.en_passant) ^ 56);
    }
    return other;
}

/// The gravest grade; nothing when nothing is found. Which of two reasons is told may hang on the order of
/// colours.
std::optional<setup::Grade> gravest(const Setup& diagram) {
    std::optional<setup::Grade> grade;
    for (const setup::Contradiction& c : setup::contradictions(diagram)) {
        grade = grade ? std::min(*grade, c.grade) : c.grade;
    }
    return grade;
}

} // namespace

TEST_CASE("no diagram that random legal play reaches is shown illegal, whatever is said beside it") {
    random_play::walk(plies, 20261126, [](const board::Position& position) {
        check_nothing_proved(position.setup());
        check_nothing_proved(as_printed(position.setup()));
    });
}

TEST_CASE("no diagram that random play of Chess960 reaches is shown illegal") {
    for (const char* const rank : {"bbqnnrkr", "rkrnqbbn", "nrbkqrnb", "qbrnkrbn", "rnbqkbnr"}) {
        std::string white(rank);
        std::transform(white.begin(), white.end(), white.begin(),
                       [](char c) { return static_cast<char>(c - 'a' + 'A'); });
        const board::Setup start =
            from_text::setup(std::string(rank) + "/pppppppp/8/8/8/8/PPPPPPPP/" + white + " w KQkq - 0 1",
                             board::Start::shuffled);
        random_play::walk(plies / 8, 960, *board::Position::from(start), [](const board::Position& position) {
            check_nothing_proved(position.setup());
            Setup bare = as_printed(position.setup());
            bare.home = board::HomeArray::shuffled(4, 7, 0);
            check_nothing_proved(bare);
        });
    }
}

TEST_CASE("White and Black are judged alike") {
    // A man more or less makes impossible ones of them.
    std::mt19937_64 random(7);
    random_play::walk(plies / 4, 11, [&](const board::Position& position) {
        Setup diagram = as_printed(position.setup());
        const board::Square square = board::square_at(static_cast<int>(random() % 64));
        if (diagram.at(square)) {
            diagram.remove(square);
        } else {
            diagram.put(square, {board::Color::white, board::all_roles[random() % 5]});
        }
        Setup other = changed_over(diagram);
        other.fullmove = 3; // at move 1 the counters would tell the two apart
        diagram.fullmove = 3;
        other.halfmoves = diagram.halfmoves = 1;
        INFO(board::write_fen(diagram));
        CHECK((gravest(diagram) == gravest(other)));
    });
}
