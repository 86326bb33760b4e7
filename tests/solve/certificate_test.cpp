// The format of certificates, what holds and what is refused.

#include "brute.hpp"
#include "certificate_text.hpp"
#include "reference/solve_reading.hpp"
#include "shared_tables.hpp"

using namespace certificate_text;
using solve::CertificateRefusal;
using solve::check_certificate;
using solve::write_certificate;
using solve_test::move;
using solve_test::position;

namespace {

constexpr const char* two_moves = "kbK5/pp6/1P6/8/8/8/8/R7 w - - 0 1"; // Morphy, New York Clipper, 1856

std::string certificate(const Position& at, Move key, int moves) {
    const auto written = write_certificate({at, key, moves}, solve_reference::ample);
    INFO(solve_test::fen(at) << ' ' << board::write_san(at, key));
    REQUIRE(written.ok());
    return *written;
}

std::string certificate(const std::string& fen, std::string_view key, int moves) {
    const Position at = position(fen);
    return certificate(at, move(at, key), moves);
}

/// Whatever holds is true: the claim read from a certificate against brute force.
void check_truth(const std::string& text) {
    const auto checked = check_certificate(text);
    if (!checked || checked->moves > 3) {
        return;
    }
    INFO(text);
    const Position at = position(checked->fen);
    const auto keys = solve_test::mating_moves(at, checked->moves);
    const Move key = move(at, checked->key.substr(checked->key.find_last_of('.') + 1));
    CHECK(std::count(keys.begin(), keys.end(), key) == 1);
}

} // namespace

TEST_CASE("what endgame tables know is written out to mate, and holds without them") {
    const solve::EndgameTables& tables = shared_tables();
    struct Ending {
        const char* fen;
        const char* key;
        int moves;
    };
    // Endings of our own; their lengths are the tables', which other tests hold to published ones.
    for (const auto& [fen, key, moves] : {Ending{"8/8/8/3k4/8/8/5Q2/4K3 w - - 0 1", "Qb6", 8},
                                          Ending{"8/8/3k4/8/8/8/8/R3K3 w - - 0 1", "Kd2", 14}}) {
        const Position at = position(fen);
        const solve::Budget budget = solve::budget_of(solve::Effort::review);
        const auto written = write_certificate({at, move(at, key), moves}, budget, &tables);
        REQUIRE(written.ok());
        CHECK(fault(*written).empty());
        CHECK(write_certificate({at, move(at, key), moves - 1}, budget, &tables).error() ==
              CertificateRefusal::no_mate);
        CHECK(write_certificate({at, move(at, key), moves}, budget, &tables, 100).error() ==
              CertificateRefusal::too_long);
    }
}

TEST_CASE("another diagram, goal or key is another claim, and holds only when it is true") {
    const std::string text = certificate(two_moves, "Ra6", 2);
    Lines lines = lines_of(text);
    const board::Setup setup = position(two_moves).setup();
    int refused = 0;
    for (int square = 0; square < 64; ++square) {
        for (const char man : std::string(".PNBRQKpnbrqk")) {
            board::Setup other = setup;
            other.remove(board::square_at(square));
            if (const auto piece = board::read_piece(man)) {
                other.put(board::square_at(square), *piece);
            }
            lines[1] = "fen " + board::write_fen(other);
            refused += check_certificate(text_of(lines)).ok() ? 0 : 1;
            check_truth(text_of(lines));
        }
    }
    CHECK(refused > 500);
    lines[1] = "fen kbK5/pp6/1P6/8/8/8/8/R7 b - - 0 1";
    CHECK(fault(text_of(lines)).starts_with("4: the key 'Ra6'"));
    lines[1] = "fen 8/pp6/1P6/8/8/8/8/R7 w - - 0 1";
    CHECK(fault(text_of(lines)) == "2: this diagram cannot be played");
    lines = lines_of(text);
    lines[2] = "goal mate in 1";
    CHECK(fault(text_of(lines)) == "5: this is move 2 of a mate in 1");
    lines[2] = "goal mate in 3"; // claims less
    CHECK(check_certificate(text_of(lines))->moves == 3);
    for (const char* goal : {"0", "01", "-1", "101", "2 ", " 2", "two", "", "99999999999999999999"}) {
        lines[2] = std::string("goal mate in ") + goal;
        CHECK(fault(text_of(lines)) == "3: the goal is no mate in 1 to 100");
    }
}

namespace {

/// The solver may wait while the defender's pawn runs: one position comes after two moves and after three.
std::string waiting(const std::string& moves, const std::string& first, const std::string& last) {
    return "sidelint certificate 1\nfen 7k/p4K1p/7P/8/8/8/8/1R6 w - - 0 1\ngoal mate in " + moves +
           "\nkey Rb2\n" + first + last;
}

const char* const direct = "a5 Rb3\n  a4 Rb8#\n";
const char* const roundabout = "a6 Rb1\n  a5 Rb3 = 5\n";

} // namespace

TEST_CASE("a reference names the same position, written before, with moves enough left") {
    CHECK(fault(waiting("4", direct, roundabout)).empty());
    CHECK(check_certificate(waiting("4", direct, roundabout))->positions == 4);
    CHECK(fault(waiting("3", direct, roundabout)) == "8: from line 5 it takes too many moves");
    CHECK(fault(waiting("4", "a6 Rb1\n  a5 Rb3 = 7\n", direct)) ==
          "6: '7' is no earlier line with all its replies");
    CHECK(fault(waiting("4", direct, "a6 Rb1\n  a5 Rb4 = 5\n")) == "8: line 5 is another position");
    CHECK(fault(waiting("4", direct, "a6 Rb3 = 5\n")) == "7: line 5 is another position");
    for (const char* line : {"0", "4", "05", "6", "7", "8", "9", "-5", "5x", "99999999999999999999"}) {
        CHECK(fault(waiting("9", direct, std::string("a6 Rb1\n  a5 Rb3 = ") + line + "\n")) ==
              "8: '" + (std::string(line).size() > 16 ? std::string(line).substr(0, 16) + "..." : line) +
                  "' is no earlier line with all its replies");
    }
    for (const char* wrong :
         {"a5 Rb3 =\n", "a5 Rb3 = 5 5\n", "a5 Rb3 == 5\n", "a5\n", "a5  Rb3\n", "a5 Rb3 \n", "\n"}) {
        CHECK(fault(waiting("4", wrong, "")).starts_with("5: a reply and its answer are expected here"));
    }
}

TEST_CASE("what a tree lacks or has too much of is named with its line") {
    CHECK(fault(waiting("4", direct, "")) == "4: the reply a6 is not answered");
    CHECK(fault(waiting("4", "a5 Rb3\n", roundabout)) == "5: the reply a4 is not answered");
    CHECK(fault(waiting("4", direct, direct)) == "7: the reply 'a5' is answered twice");
    CHECK(fault(waiting("4", "a4 Rb3\n", "")).starts_with("5: the reply 'a4' is no legal move"));
    CHECK(fault(waiting("4", "a5 Rb9\n", "")).starts_with("5: the answer 'Rb9' is no legal move"));
    CHECK(
        fault(waiting("4", "a5 Rb8\n", "")).starts_with("5: the answer 'Rb8' is no legal move, or is spelt"));
    CHECK(fault(waiting("4", "a5 Rb8#\n  a4 Rb1\n", "")) == "6: no position is open at this indentation");
    CHECK(fault(waiting("4", " a5 Rb8#\n", "")) == "5: no position is open at this indentation");
    CHECK(fault(waiting("4", "\ta5 Rb8#\n", "")).starts_with("5: the reply"));
    CHECK(fault("sidelint certificate 1\nfen 7k/8/8/6K1/8/8/8/5Q2 w - - 0 1\ngoal mate in 2\nkey Qf7\n") ==
          "4: this is stalemate");
}

TEST_CASE("the example that explains the format is what is written") {
    std::ifstream header(SIDELINT_SOURCE_DIR "/src/solve/certificate.hpp");
    const std::string margin = "//     ";
    std::string example;
    for (std::string line; std::getline(header, line);) {
        example += line.starts_with(margin) ? line.substr(margin.size()) + '\n' : "";
    }
    const auto checked = check_certificate(example);
    REQUIRE(checked.ok());
    CHECK(checked->positions == 12);
    CHECK(certificate(checked->fen, "Rb5", checked->moves) == example);
}

TEST_CASE("the head of a certificate is held to its form") {
    const std::string text = certificate(two_moves, "Ra6", 2);
    Lines lines = lines_of(text);
    CHECK(fault("") == "1: 'sidelint certificate ...' is expected here");
    CHECK(fault("\n\n") == "1: 'sidelint certificate ...' is expected here");
    lines[0] = "sidelint certificate 2";
    CHECK(fault(text_of(lines)) == "1: version '2' is not known");
    lines = lines_of(text);
    lines.erase(lines.begin() + 2);
    CHECK(fault(text_of(lines)) == "3: 'goal mate in ...' is expected here");
    for (const char* fen :
         {"", "rubbish", "kbK5/pp6/1P6/8/8/8/8/R7", "kbK5/pp6/1P6/8/8/8/8/R7 w - - 0 1 x"}) {
        lines = lines_of(text);
        lines[1] = std::string("fen ") + fen;
        CHECK(fault(text_of(lines)).starts_with("2: "));
    }
    std::string carriage;
    for (const char c : text) {
        carriage += c == '\n' ? "\r\n" : std::string(1, c);
    }
    CHECK(check_certificate(carriage).ok()); // a checkout may have turned the line ends
    CHECK(check_certificate(text.substr(0, text.size() - 1)).ok());
    CHECK_FALSE(check_certificate(text + "\n").ok());
    CHECK_FALSE(check_certificate("\xef\xbb\xbf" + text).ok());
}

TEST_CASE("hostile bytes are a fault, never a crash or a hang") {
    const std::string text = certificate(two_moves, "Ra6", 2);
    for (std::size_t end = 0; end + 1 < text.size(); ++end) {
        CHECK_FALSE(check_certificate(text.substr(0, end)).ok());
    }
    solve_test::Random random(11);
    for (std::size_t at = 0; at < text.size(); ++at) {
        for (const char c : {'\0', '\n', ' ', '#', '=', '\xff', static_cast<char>(random.below(256))}) {
            std::string changed = text;
            changed[at] = c;
            check_truth(changed);
            changed = text;
            changed.insert(at, 1, c);
            check_truth(changed);
        }
    }
    std::string noise(1'000'000, ' ');
    for (char& c : noise) {
        c = static_cast<char>(random.below(256));
    }
    CHECK_FALSE(check_certificate(noise).ok());
    const std::string head = text.substr(0, text.find("key "));
    CHECK(fault(head + noise).starts_with("4: "));
    CHECK(fault(head + "key Ra6\n" + noise).starts_with("5: "));
    CHECK(fault(head + std::string(10'000'000, ' ')) == "4: longer than any line of a certificate");
    CHECK(fault(std::string(10'000'000, '\0')) == "1: longer than any line of a certificate");
    CHECK(fault(head + "key " + std::string("Ra6\0#", 5) + '\n').starts_with("4: the key"));
}

TEST_CASE("a tree of many lines is read to the bound and no further") {
    std::string deep =
        "sidelint certificate 1\nfen 7k/8/8/8/8/8/8/KR6 w - - 0 1\ngoal mate in 100\nkey Ra2\n";
    // One branch as deep as the goal allows: both kings walk to and fro, all other replies are missing.
    for (int level = 0; level < 99; ++level) {
        deep += std::string(static_cast<std::size_t>(2 * level), ' ') +
                (level % 2 == 0 ? "Kg8 Rb3\n" : "Kh8 Rb1\n");
    }
    CHECK(fault(deep).ends_with("no legal move, or is spelt otherwise"));
    std::string wide =
        "sidelint certificate 1\nfen 7k/8/8/8/8/8/8/KR6 w - - 0 1\ngoal mate in 100\nkey Rb2\n";
    for (int level = 0; level < 99; ++level) {
        wide += std::string(static_cast<std::size_t>(2 * level), ' ') +
                (level % 2 == 0 ? "Kg8 Rb3\n" : "Kh8 Rb2\n");
    }
    CHECK(fault(wide) == "103: the reply Kf7 is not answered");
    CHECK(fault(wide + std::string(198, ' ') + "Kh8 Rb2\n") == "104: this is move 101 of a mate in 100");
    CHECK(check_certificate(wide + std::string(10'000'000, '\n')).error().line == 103);
}

TEST_CASE("a claim that is wrong, too dear or too long gives no certificate") {
    const Position at = position(two_moves);
    const auto refusal = [](const Position& from, std::string_view key, int moves,
                            const solve::Budget& budget, std::size_t most_lines) {
        const auto written = write_certificate({from, move(from, key), moves}, budget, nullptr, most_lines);
        REQUIRE_FALSE(written.ok());
        return written.error();
    };
    constexpr std::size_t plenty = solve::most_certificate_lines;
    const auto& ample = solve_reference::ample;
    CHECK(refusal(at, "Ra5", 2, ample, plenty) == CertificateRefusal::no_mate);
    CHECK(refusal(at, "Ra6", 1, ample, plenty) == CertificateRefusal::no_mate);
    CHECK(refusal(at, "Ra6", 0, ample, plenty) == CertificateRefusal::no_mate);
    CHECK(refusal(position("8/8/8/8/3k4/8/5K2/5B2 w - - 0 1"), "Kf3", 101, ample, plenty) ==
          CertificateRefusal::too_deep);
    CHECK(write_certificate({at, Move(), 2}, ample).error() == CertificateRefusal::no_mate);
    solve::Budget poor = ample;
    poor.puzzle = 3;
    CHECK(refusal(at, "Ra6", 2, poor, plenty) == CertificateRefusal::budget_ended);
    const std::size_t lines = lines_of(certificate(two_moves, "Ra6", 2)).size();
    CHECK(refusal(at, "Ra6", 2, ample, lines - 1) == CertificateRefusal::too_long);
    CHECK(refusal(at, "Ra6", 2, ample, 3) == CertificateRefusal::too_long);
    CHECK(write_certificate({at, move(at, "Ra6"), 2}, ample, nullptr, lines).ok());
}
