#include "rules/company.hpp"

#include "rules/play.hpp"

#include <algorithm>

namespace rules {

namespace {

using solve::MoveVerdict;

constexpr std::size_t most_looked_at = 6; // moves that are searched for their own value

enum class Place : std::uint8_t { below, level, above, unknown };

/// A move and where a search of its own puts it. A key that moved over its last depths is taken at its best.
struct Look {
    Place place = Place::unknown;
    MoveVerdict seen;
};

/// The move reaches `least` in a question of its own.
std::optional<MoveVerdict> held_to(const PuzzleView& view, const MoveVerdict& rival, int least) {
    const solve::Judgement held = view.solver().reaches(view.position()->after(rival.move),
                                                        view.solver_side(), solve::Aim::value(least));
    if (held.answer != solve::Answer::yes) {
        return std::nullopt;
    }
    MoveVerdict seen = rival;
    seen.value = held.value;
    seen.value_is = solve::ValueIs::at_least;
    seen.line = {rival.move};
    seen.line.insert(seen.line.end(), held.line.begin(), held.line.end());
    return seen;
}

Look look_at(const PuzzleView& view, const MoveVerdict& key, int key_at_most, const MoveVerdict& rival) {
    const int near = view.settings().near;
    auto seen = confirmed(view, rival, key.value.score - near);
    if (!seen) {
        return {Place::below, rival};
    }
    const bool exact = seen->value_is == solve::ValueIs::exact;
    if (exact && seen->value.score >= key_at_most + near) {
        return {Place::above, std::move(*seen)};
    }
    if (!exact || seen->value.score < key_at_most - near) {
        seen = held_to(view, rival, key_at_most - near);
    }
    const bool level = seen && seen->value.score < key.value.score + near;
    return level ? Look{Place::level, std::move(*seen)} : Look{Place::unknown, rival};
}

/// Looks at the moves in turn, until one tells that the key is not alone. Drops those that are clearly worse
/// after all.
void look_closer(const PuzzleView& view, const MoveVerdict& key, int key_at_most, Company& company) {
    std::size_t looked_at = 0;
    for (std::vector<board::Move>* const moves : {&company.above, &company.level, &company.loose}) {
        std::vector<board::Move> kept;
        for (const board::Move move : *moves) {
            Look look{Place::unknown, {}};
            if (!company.better && !company.shown && looked_at++ < most_looked_at) {
                look = look_at(view, key, key_at_most, *view.table().of(move));
            }
            if (look.place == Place::above) {
                company.better = std::move(look.seen);
            } else if (look.place == Place::level) {
                company.shown = std::move(look.seen);
            }
            if (look.place != Place::below) {
                kept.push_back(move);
            }
        }
        *moves = std::move(kept);
    }
}

} // namespace

Company find_company(const PuzzleView& view) {
    const MoveVerdict& key = *view.table().of(*view.key());
    Company company;
    for (const MoveVerdict& rival : view.table().moves) {
        if (rival.standing == solve::Standing::key || rival.below_key || is_accepted(view, rival.move)) {
            continue;
        }
        const bool above = rival.value.score >= key.value.score + view.settings().near;
        const bool settled =
            rival.certainty != solve::Certainty::open && rival.standing != solve::Standing::less;
        (above ? company.above : settled ? company.level : company.loose).push_back(rival.move);
    }
    const auto key_at_most = view.table().key_at_most;
    if (key_at_most && *key_at_most < view.settings().win_at) {
        look_closer(view, key, *key_at_most, company);
    }
    return company;
}

} // namespace rules
