#include "rules/company.hpp"

#include "rules/play.hpp"

#include <algorithm>

namespace rules {

namespace {

using solve::MoveVerdict;

constexpr std::size_t most_looked_at =
    4; // rivals searched for their own value; more than one seldom drops out

bool is_above(const PuzzleView& view, const MoveVerdict& rival, int key_value) {
    return rival.value.score >= key_value + view.settings().near;
}

/// Some move that a search of its own puts clearly above the key at its best.
std::optional<MoveVerdict> find_better(const PuzzleView& view, int key_at_most,
                                       const std::vector<board::Move>& above) {
    const int least = key_at_most + view.settings().near;
    for (std::size_t i = 0; i < std::min(above.size(), most_looked_at); ++i) {
        auto seen = confirmed(view, *view.table().of(above[i]), least);
        if (seen && seen->value_is == solve::ValueIs::exact && is_above(view, *seen, key_at_most)) {
            return seen;
        }
    }
    return std::nullopt;
}

/// The first of the moves that a search of its own finds level with the key; those that it does not are put
/// where they belong. A key that moved is taken at its best.
void look_closer(const PuzzleView& view, const MoveVerdict& key, int key_at_most, Company& company) {
    const int near = view.settings().near;
    std::vector<board::Move> kept;
    std::size_t looked_at = 0;
    for (const board::Move move : company.level) {
        if (company.shown || looked_at++ == most_looked_at) {
            kept.push_back(move);
            continue;
        }
        const auto seen = confirmed(view, *view.table().of(move), key.value.score - near);
        if (!seen) {
            continue; // clearly worse after all
        }
        if (seen->value_is != solve::ValueIs::exact || seen->value.score < key_at_most - near ||
            is_above(view, *seen, key.value.score)) {
            company.loose.push_back(move);
        } else {
            company.shown = seen;
            kept.push_back(move);
        }
    }
    company.level = std::move(kept);
}

} // namespace

Company find_company(const PuzzleView& view) {
    const MoveVerdict& key = *view.table().of(*view.key());
    Company company;
    for (const MoveVerdict& rival : view.table().moves) {
        if (rival.standing == solve::Standing::key || rival.below_key || is_accepted(view, rival.move)) {
            continue;
        }
        const bool settled =
            rival.certainty != solve::Certainty::open && rival.standing != solve::Standing::less;
        auto& moves = is_above(view, rival, key.value.score) ? company.above
                      : settled                              ? company.level
                                                             : company.loose;
        moves.push_back(rival.move);
    }
    const auto key_at_most = view.table().key_at_most;
    if (!key_at_most || *key_at_most >= view.settings().win_at) {
        return company;
    }
    company.better = find_better(view, *key_at_most, company.above);
    if (company.above.empty()) {
        look_closer(view, key, *key_at_most, company);
    }
    return company;
}

} // namespace rules
