// Three men, every position: a table built here backwards from mate, held against the handbooks' figures, and
// the solver held against the table.

#include "solve_reading.hpp"

#include <array>
#include <cstdint>

using board::Color;
using board::Move;
using board::Position;
using board::Role;
using board::Square;
using namespace solve_reference;
using solve::Aim;
using solve::Answer;
using solve::Certainty;
using solve::Solver;

namespace {

/// White king and one white man against the black king: plies to mate, by side to move and squares.
class Table {
  public:
    explicit Table(Role role) : m_role(role) {
        for (std::size_t i = 0; i < places; ++i) {
            enter(i);
        }
        for (bool any = true; any; ++m_longest) {
            any = deepen(m_longest + 1);
        }
        --m_longest;
    }

    /// Plies to mate; nothing when it is a draw.
    [[nodiscard]] std::optional<int> plies(const Position& at) const {
        const std::int16_t known = m_plies[place(at)];
        return known < 0 ? std::nullopt : std::optional<int>(known);
    }
    [[nodiscard]] int longest() const { return m_longest; }
    [[nodiscard]] std::optional<Position> at(std::size_t place) const { return diagram(place); }
    static constexpr std::size_t places = std::size_t{2} * 64 * 64 * 64;

  private:
    [[nodiscard]] std::size_t place(const Position& at) const {
        const Square man = at.pieces(Color::white, m_role).first();
        const auto on = [](Square square) { return static_cast<std::size_t>(board::index(square)); };
        const std::size_t kings = (on(at.king(Color::white)) << 6U) + on(at.king(Color::black));
        return (((board::index(at.turn()) << 6U) + on(man)) << 12U) + kings;
    }
    [[nodiscard]] std::optional<Position> diagram(std::size_t place) const {
        const auto square = [&](unsigned shift) { return static_cast<Square>((place >> shift) & 63U); };
        if (square(12) == square(6) || square(12) == square(0) || square(6) == square(0)) {
            return std::nullopt;
        }
        board::Setup setup;
        setup.put(square(12), {Color::white, m_role});
        setup.put(square(6), {Color::white, Role::king});
        setup.put(square(0), {Color::black, Role::king});
        setup.turn = (place >> 18U) == 0 ? Color::white : Color::black;
        const auto made = Position::from(setup);
        return made.ok() ? std::optional(*made) : std::nullopt;
    }
    void enter(std::size_t i) {
        const auto at = diagram(i);
        m_begin[i] = m_next.size();
        m_begin[i + 1] = m_begin[i];
        m_plies[i] = at && at->is_checkmate() ? std::int16_t{0} : std::int16_t{-1};
        if (!at) {
            return;
        }
        for (const Move m : at->legal_moves()) {
            const Position next = at->after(m);
            // The bare kings draw: a place that never gets a figure.
            m_next.push_back(next.pieces(Color::white, m_role).empty()
                                 ? static_cast<std::uint32_t>(places)
                                 : static_cast<std::uint32_t>(place(next)));
        }
        m_begin[i + 1] = m_next.size();
    }
    /// Odd plies: White mates when one move leads to a shorter mate; even: Black when every move does.
    bool deepen(int plies) {
        const std::size_t half = places / 2;
        const std::size_t first = plies % 2 == 1 ? 0 : half;
        bool any = plies % 2 == 1 && plies == 1; // mates may be missing from one half only
        for (std::size_t i = first; i < first + half; ++i) {
            if (m_plies[i] >= 0 || m_begin[i] == m_begin[i + 1]) {
                continue;
            }
            const auto lost = [&](std::size_t k) { return m_plies[m_next[k]] >= 0; };
            bool works = plies % 2 == 0;
            for (std::size_t k = m_begin[i]; k < m_begin[i + 1] && works == (plies % 2 == 0); ++k) {
                works = lost(k);
            }
            if (works) {
                m_plies[i] = static_cast<std::int16_t>(plies);
                any = true;
            }
        }
        return any;
    }

    Role m_role;
    int m_longest = 0;
    std::vector<std::int16_t> m_plies = std::vector<std::int16_t>(places + 1, -1);
    std::vector<std::size_t> m_begin = std::vector<std::size_t>(places + 1, 0);
    std::vector<std::uint32_t> m_next;
};

/// Draws positions of the table at even steps through it, `visit(position, moves to mate)`.
template <class Visit> void sample(const Table& table, std::size_t step, Visit visit) {
    for (std::size_t i = step / 2; i < Table::places; i += step) {
        if (const auto at = table.at(i)) {
            const auto plies = table.plies(*at);
            visit(*at, plies ? std::optional((*plies + 1) / 2) : std::nullopt);
        }
    }
}

void check_solver(const Table& table, std::size_t step) {
    int mates = 0;
    int none = 0;
    constexpr int limit = 3;
    sample(table, step * every, [&](const Position& at, std::optional<int> moves) {
        INFO(board::write_fen(at.setup()));
        const bool reached = moves && *moves <= limit;
        const auto judged = Solver(ample).reaches(at, Color::white, Aim::mate(limit));
        CHECK(judged.answer == (reached ? Answer::yes : Answer::no));
        CHECK(judged.certainty == Certainty::proved);
        if (at.turn() == Color::white) {
            const auto found = Solver(ample).mates(at, limit);
            CHECK(found.complete);
            CHECK(found.length == (reached ? moves : std::nullopt));
        }
        (reached ? mates : none) += 1;
        // What the search says of the value must not contradict the table.
        const auto wins = Solver(ample).reaches(at, Color::white, Aim::value(200)).answer;
        CHECK(wins != (moves ? Answer::no : Answer::yes));
    });
    CHECK(static_cast<std::size_t>(mates) >= 6 / every);
    CHECK(static_cast<std::size_t>(none) >= 100 / every);
}

} // namespace

// Longest mates, common practice of handbooks: the queen needs at most ten moves, the rook sixteen.
TEST_CASE("queen and rook against the bare king: the longest mates, and what the solver says of short ones") {
    const Table queen(Role::queen);
    CHECK(queen.longest() == 2 * 10);
    check_solver(queen, 1009);
    const Table rook(Role::rook);
    CHECK(rook.longest() == 2 * 16);
    check_solver(rook, 1013);
}
