// Set-up rules against verdicts and games published by others.
#include "from_text.hpp"
#include "setup/legality.hpp"

#include <fstream>
#include <map>
#include <sstream>
#include <utility>

using setup::Contradiction;
using setup::Grade;
using setup::Rule;

namespace {

std::vector<std::pair<std::string, std::string>> rows(const std::string& name) {
    std::ifstream file(SIDELINT_SOURCE_DIR "/tests/reference/data/" + name);
    std::vector<std::pair<std::string, std::string>> list;
    for (std::string line; std::getline(file, line);) {
        const std::size_t tab = line.find('\t');
        if (!line.empty() && line.front() != '#' && tab != std::string::npos) {
            list.emplace_back(line.substr(0, tab), line.substr(tab + 1));
        }
    }
    return list;
}

/// Nothing but suspicions.
void check_not_shown_illegal(const board::Setup& diagram) {
    for (const Contradiction& c : setup::contradictions(diagram)) {
        INFO(board::write_fen(diagram) << ' ' << c.code << ' ' << c.why);
        CHECK(c.grade == Grade::suspicion);
    }
}

} // namespace

TEST_CASE("random diagrams found illegal by others are found illegal here, for a like reason") {
    const std::map<std::string, Rule> reasons{
        {"both kings in check", Rule::opponent_in_check},
        {"side not to move in check", Rule::opponent_in_check},
        {"adjacent kings", Rule::kings},
        {"bishops too monochromatic", Rule::too_many_pieces},
        {"triple check", Rule::impossible_check},
        {"double check", Rule::impossible_check},
        {"no possible last move", Rule::impossible_check},
        {"no possible last move, all moves rejected", Rule::no_last_move},
        {"no proof kernel", Rule::unreachable}, // no way for so many pawns to pass each other
    };
    const auto list = rows("setup-random-diagrams.tsv");
    REQUIRE(list.size() >= 100);
    for (const auto& [verdict, fen] : list) {
        INFO(verdict << ' ' << fen);
        const std::vector<Contradiction> found = setup::contradictions(from_text::setup(fen));
        REQUIRE_FALSE(found.empty());
        bool named = false;
        for (const Contradiction& c : found) {
            CHECK(c.grade == Grade::illegal);
            // What lies further back is not asked where counting shows enough.
            named = named || c.rule == reasons.at(verdict) ||
                    (reasons.at(verdict) == Rule::no_last_move && c.code == "W4");
        }
        CHECK(named);
    }
}

TEST_CASE("no position of a published proof game is shown illegal") {
    const auto list = rows("setup-proof-games.tsv");
    REQUIRE(list.size() == 12);
    for (const auto& [fen, moves] : list) {
        board::Position position;
        std::istringstream words(moves);
        for (std::string word; words >> word;) {
            INFO(fen << " at " << word);
            position.make(from_text::move(position, word));
            check_not_shown_illegal(position.setup());
        }
        const board::Setup diagram = from_text::setup(fen);
        CHECK(position.setup().by_color == diagram.by_color);
        CHECK(position.setup().by_role == diagram.by_role);
        check_not_shown_illegal(diagram);
    }
}

TEST_CASE("the FEN examples of the PGN standard of 1994 (16.1.4) are not shown illegal") {
    for (const char* fen : {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
                            "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1",
                            "rnbqkbnr/pp1ppppp/8/2p5/4P3/8/PPPP1PPP/RNBQKBNR w KQkq c6 0 2",
                            "rnbqkbnr/pp1ppppp/8/2p5/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 1 2"}) {
        check_not_shown_illegal(from_text::setup(fen));
    }
    CHECK(setup::contradictions(from_text::setup("4k3/8/8/8/8/8/4P3/4K3 w - - 5 39")).empty());
}
