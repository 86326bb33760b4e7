// Every position of three men against a second, slow way: forwards from the rules alone, no symmetry, no
// taking back.

#include "endgame_positions.hpp"

#include <array>
#include <cstdint>

namespace {

using namespace endgame_test;
using board::Color, board::Position, board::Role, board::Square;

constexpr std::size_t positions = 2 * 64 * 64 * 64;

struct Found {
    bool known = false;
    Value value;
};
using Values = std::vector<Found>;

std::size_t number(Color turn, Square white, Square black, Square man) {
    const auto at = [](Square square) { return static_cast<std::size_t>(index(square)); };
    return ((index(turn) * 64 + at(white)) * 64 + at(black)) * 64 + at(man);
}

std::optional<Position> numbered(std::size_t number, Role role) {
    board::Setup setup;
    const auto square = [&](int shift) { return board::square_at(static_cast<int>(number >> shift) & 63); };
    if (square(12) == square(6) || square(6) == square(0) || square(0) == square(12)) {
        return std::nullopt;
    }
    setup.put(square(12), {Color::white, Role::king});
    setup.put(square(6), {Color::black, Role::king});
    setup.put(square(0), {Color::white, role});
    setup.turn = number >> 18 == 0 ? Color::white : Color::black;
    const auto made = Position::from(setup);
    return made.ok() ? std::optional(*made) : std::nullopt;
}

struct Child {
    const Found* found; ///< nullptr: bare kings
};

class SlowWay {
  public:
    /// `promoted` has the values of the other materials by role.
    SlowWay(Role role, const std::array<Values, 6>& promoted)
        : m_role(role), m_promoted(promoted), m_values(positions) {
        for (std::size_t n = 0; n < positions; ++n) {
            if (const auto position = numbered(n, role)) {
                add(n, *position);
            }
        }
        // A round without news is the end, once no promotion can lead to a longer mate than those found so
        // far.
        const int longest_elsewhere = role == Role::pawn ? 2 * 16 : 0;
        int plies = 1;
        while (find(plies) || plies <= longest_elsewhere) {
            ++plies;
        }
    }

    Values take() { return std::move(m_values); }

  private:
    struct Open {
        std::size_t number;
        std::vector<Child> children;
    };

    void add(std::size_t n, const Position& position) {
        Open open{n, {}};
        for (const board::Move move : position.legal_moves()) {
            open.children.push_back(child(position.after(move)));
        }
        if (open.children.empty()) {
            m_values[n] = {true, {position.in_check() ? Outcome::loss : Outcome::draw, 0}};
        } else {
            m_open.push_back(std::move(open));
        }
    }

    [[nodiscard]] Child child(const Position& next) const {
        const board::Bitboard men = next.occupied() & ~next.pieces(Role::king);
        if (men.empty()) {
            return {nullptr};
        }
        const Role role = next.at(men.first())->role;
        const std::size_t n =
            number(next.turn(), next.king(Color::white), next.king(Color::black), men.first());
        return {role == m_role ? &m_values[n] : &m_promoted[index(role)][n]};
    }

    static bool leads_to(const Child& child, Outcome outcome, int most_plies) {
        return child.found != nullptr && child.found->known && child.found->value.outcome == outcome &&
               child.found->value.plies_to_mate <= most_plies;
    }

    /// Won or lost in exactly `plies`.
    bool find(int plies) {
        std::vector<std::pair<std::size_t, Outcome>> news;
        std::erase_if(m_open, [&](const Open& open) {
            const auto reaches = [&](Outcome outcome) {
                return [outcome, plies](const Child& c) { return leads_to(c, outcome, plies - 1); };
            };
            if (std::any_of(open.children.begin(), open.children.end(), reaches(Outcome::loss))) {
                news.emplace_back(open.number, Outcome::win);
            } else if (std::all_of(open.children.begin(), open.children.end(), reaches(Outcome::win))) {
                news.emplace_back(open.number, Outcome::loss);
            } else {
                return false;
            }
            return true;
        });
        for (const auto& [n, outcome] : news) {
            m_values[n] = {true, {outcome, plies}};
        }
        return !news.empty();
    }

    Role m_role;
    const std::array<Values, 6>& m_promoted;
    Values m_values;
    std::vector<Open> m_open;
};

/// The slow way's unknown are the draws. Returns the longest win.
int compare(const solve::EndgameTables& tables, Role role, const Values& values) {
    int seen = 0;
    int wrong = 0;
    int longest = 0;
    for (std::size_t n = 0; n < positions; ++n) {
        const auto position = numbered(n, role);
        if (!position) {
            continue;
        }
        ++seen;
        const Value expected = values[n].value;
        longest = std::max(longest, expected.outcome == Outcome::win ? expected.plies_to_mate : 0);
        if (tables.probe(*position) != expected && wrong++ < 3) {
            UNSCOPED_INFO(fen(*position));
        }
    }
    CHECK(wrong == 0);
    CHECK(seen > 300'000);
    return longest;
}

} // namespace

TEST_CASE("endgame tables: every position of three men") {
    const solve::EndgameTables tables(std::nullopt);
    std::array<Values, 6> values;
    std::array<int, 6> longest{};
    for (const Role role : {Role::knight, Role::bishop, Role::rook, Role::queen, Role::pawn}) {
        values[index(role)] = SlowWay(role, values).take();
        longest[index(role)] = compare(tables, role, values[index(role)]);
    }
    // Moves of the stronger side: figures of the trade, from memory.
    CHECK(longest[index(Role::queen)] == 2 * 10 - 1);
    CHECK(longest[index(Role::rook)] == 2 * 16 - 1);
    CHECK(longest[index(Role::pawn)] == 2 * 28 - 1);
    CHECK(longest[index(Role::bishop)] == 0);
    CHECK(longest[index(Role::knight)] == 0);
}
