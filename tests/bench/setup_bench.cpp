// Can this diagram arise, asked of many diagrams: what is found, and what the question costs. A plain
// program, since what it finds counts as much as how fast.
//   bench_setup play PLIES [SEED]   random legal games: every contradiction is a false alarm, and printed
//   bench_setup games FILE...       games from the initial array in PGN, sidelines too: the same
//   bench_setup diagrams FILE...    diagrams, a FEN at the start of each line: counts by code; those passed
//   are printed

#include "random_play.hpp"

#include "collection/movetext.hpp"
#include "setup/conditions.hpp"

#include <fmt/format.h>

#include <ctime>
#include <fstream>
#include <iterator>
#include <map>
#include <span>

namespace {

using setup::Contradiction;
using setup::Grade;

/// Microseconds this thread has computed so far.
double thread_time() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return 1e6 * static_cast<double>(now.tv_sec) + 1e-3 * static_cast<double>(now.tv_nsec);
}

/// What contradictions() asks of a diagram that has no fault, but for the last move.
void ask_all_else(const board::Setup& diagram) {
    std::vector<Contradiction> found;
    setup::find_king_faults(diagram, found);
    setup::find_clock_faults(diagram, found);
    (void)setup::pawn_on_last_rank(diagram);
    (void)setup::opponent_in_check(diagram);
    (void)setup::too_many_men(diagram, board::Color::white);
    (void)setup::too_many_men(diagram, board::Color::black);
    (void)setup::three_checkers(diagram);
    (void)board::without_field_faults(diagram);
    (void)setup::placement(diagram);
    (void)setup::rights_without_men(diagram);
    (void)setup::en_passant_square(diagram);
    (void)setup::turn_against_tempo(diagram);
    (void)setup::promotions_past_pawns(diagram);
    const auto position = board::Position::from(diagram);
    (void)(position->has_legal_move() && position->is_dead());
}

class Account {
  public:
    std::vector<Contradiction> judge(const board::Setup& diagram) {
        const double begin = thread_time();
        std::vector<Contradiction> found = setup::contradictions(diagram);
        const double took = thread_time() - begin;
        if (took > m_longest) {
            m_longest = took;
            m_slowest = diagram;
        }
        m_diagrams.push_back(diagram);
        for (const Contradiction& c : found) {
            ++m_codes[c.code];
        }
        return found;
    }

    /// Diagrams of real play, as they stand and with less said about them.
    void expect_nothing(const board::Setup& diagram) {
        board::Setup bare = diagram;
        bare.castling = {};
        bare.en_passant.reset();
        bare.halfmoves = 0;
        bare.fullmove = 1;
        for (const board::Setup& told : {diagram, bare}) {
            for (const Contradiction& c : judge(told)) {
                if (c.grade != Grade::suspicion) {
                    ++m_alarms;
                    fmt::print("false alarm: {} {}: {}\n", board::write_fen(told), c.code, c.why);
                }
            }
        }
    }

    int report(bool alarms_count) const {
        fmt::print("diagrams {}\n", m_diagrams.size());
        for (const auto& [code, count] : m_codes) {
            fmt::print("  {:6} {}\n", count, code);
        }
        std::vector<board::Setup> playable;
        for (const board::Setup& diagram : m_diagrams) {
            const board::Setup mended = board::without_field_faults(diagram);
            if (board::Position::from(mended).ok()) {
                playable.push_back(mended);
            }
        }
        const double all_else = each(playable, ask_all_else);
        const double last_move = each(playable, [](const board::Setup& diagram) {
            if (!setup::no_last_move(diagram)) {
                (void)setup::earlier_moves(diagram);
            }
        });
        fmt::print("microseconds a diagram: {:.2f} to take moves back, {:.2f} for all else\n"
                   "the longest {:.0f}: {}\n",
                   last_move, all_else, m_longest, board::write_fen(m_slowest));
        if (alarms_count) {
            fmt::print("false alarms {}\n", m_alarms);
        }
        return m_alarms > 0 ? 1 : 0;
    }

  private:
    /// Microseconds a diagram, timed in one go: reading the clock costs more than many a question.
    template <class Ask> [[nodiscard]] static double each(const std::vector<board::Setup>& asked, Ask ask) {
        const double begin = thread_time();
        for (const board::Setup& diagram : asked) {
            ask(diagram);
        }
        return (thread_time() - begin) / static_cast<double>(std::max<std::size_t>(asked.size(), 1));
    }

    std::map<std::string, std::size_t> m_codes;
    std::vector<board::Setup> m_diagrams;
    std::size_t m_alarms = 0;
    double m_longest = 0;
    board::Setup m_slowest;
};

std::string bytes_of(const char* path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

bool is_tag(std::string_view line) {
    return !line.empty() && line.front() == '[';
}

/// Splits a PGN file at its tags; what has a FEN tag need not begin at the initial array.
std::vector<std::string> games_in(const std::string& text) {
    std::vector<std::string> games(1);
    bool from_diagram = false;
    bool after_tag = false;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        const std::string_view line(text.data() + at, end - at);
        at = end + 1;
        if (is_tag(line)) {
            if (!after_tag) {
                games.emplace_back();
                from_diagram = false;
            }
            from_diagram = from_diagram || line.starts_with("[FEN");
        } else if (!from_diagram) {
            (games.back() += line) += '\n';
        }
        after_tag = is_tag(line) || (after_tag && line.find_first_not_of(" \t\r") == std::string_view::npos);
    }
    return games;
}

void judge_game(Account& account, const std::string& text) {
    const auto movetext =
        collection::read_movetext(collection::Source(text, {0, text.size()}), board::Position());
    std::vector<std::optional<board::Position>> positions(movetext.tree.nodes.size());
    positions[0] = board::Position();
    for (std::size_t i = 1; i < positions.size(); ++i) {
        const collection::TreeNode& node = movetext.tree.nodes[i];
        if (node.status == collection::MoveStatus::legal && positions[node.parent]) {
            positions[i] = positions[node.parent]->after(node.move);
            account.expect_nothing(positions[i]->setup());
        }
    }
}

void judge_diagrams(Account& account, const std::string& text) {
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        const std::string line = text.substr(at, end - at);
        at = end + 1;
        const board::FenReading reading = board::read_fen(line.substr(0, line.find_first_of("\t,")));
        if (reading.usable && account.judge(reading.setup).empty()) {
            fmt::print("passed: {}\n", line);
        }
    }
}

int run(std::span<char*> words) {
    const std::string_view what = words.size() < 2 ? std::string_view() : words[0];
    Account account;
    if (what == "play") {
        const std::uint64_t seed = words.size() > 2 ? std::stoull(words[2]) : 1;
        random_play::walk(std::stoull(words[1]), seed,
                          [&](const board::Position& position) { account.expect_nothing(position.setup()); });
    } else if (what == "games" || what == "diagrams") {
        for (const char* path : words.subspan(1)) {
            const std::string text = bytes_of(path);
            if (what == "diagrams") {
                judge_diagrams(account, text);
                continue;
            }
            for (const std::string& game : games_in(text)) {
                judge_game(account, game);
            }
        }
    } else {
        fmt::print("play PLIES [SEED], games FILE... or diagrams FILE...\n");
        return 2;
    }
    return account.report(what != "diagrams");
}

} // namespace

int main(int argc, char** argv) {
    return run(std::span(argv + 1, argv + argc));
}
