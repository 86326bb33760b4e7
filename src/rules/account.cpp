#include "rules/account.hpp"

#include "rules/play.hpp"

#include <array>

#include <fmt/format.h>

namespace rules {

namespace {

using board::Color;
using board::Role;

constexpr std::array roles{Role::queen, Role::rook, Role::bishop, Role::knight, Role::pawn};

struct Men {
    std::array<int, roles.size()> count{};

    [[nodiscard]] int worth() const {
        int sum = 0;
        for (std::size_t i = 0; i < roles.size(); ++i) {
            sum += count.at(i) * board::value_of(roles.at(i));
        }
        return sum;
    }

    /// "rook and two pawns"; empty for none.
    [[nodiscard]] std::string text() const {
        constexpr std::array<std::string_view, 3> numbers{"two", "three", "four"};
        std::vector<std::string> parts;
        for (std::size_t i = 0; i < roles.size(); ++i) {
            const int n = count.at(i);
            const std::string name(board::name(roles.at(i)));
            if (n == 1) {
                parts.push_back(name);
            } else if (n > 1) {
                const auto at = static_cast<std::size_t>(n - 2);
                parts.push_back(fmt::format(
                    "{} {}s", at < numbers.size() ? std::string(numbers.at(at)) : std::to_string(n), name));
            }
        }
        return listed(parts, parts.size());
    }
};

} // namespace

std::string account_of(const board::Position& before, const board::Position& after, Color side) {
    Men got;
    Men gave;
    for (std::size_t i = 0; i < roles.size(); ++i) {
        const auto lost = [&](Color color) {
            return before.pieces(color, roles.at(i)).count() - after.pieces(color, roles.at(i)).count();
        };
        const int net = lost(!side) - lost(side);
        (net > 0 ? got : gave).count.at(i) = net > 0 ? net : -net;
    }
    if (got.worth() == 0 && gave.worth() == 0) {
        return "no man is won";
    }
    if (gave.worth() == 0) {
        return got.text() + " for nothing";
    }
    if (got.worth() == 0) {
        return "nothing for " + gave.text();
    }
    return fmt::format("{} for {}: {} against {}", got.text(), gave.text(), got.worth(), gave.worth());
}

} // namespace rules
